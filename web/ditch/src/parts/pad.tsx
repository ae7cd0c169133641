// Entering one value with a gloved finger: a list to tap, a pad of figures with the units beside it, or the phone's
// own keyboard where words are needed.
import { useState } from 'preact/hooks';

import type { Field } from '../fields';
import { usePhone } from '../phone';
import { t } from '../words';

/** A pressure that is entered is a gauge's, and says so. */
const shownUnit = (field: Field, unit: string) => (unit === 'inWC' && field.key !== 'gauge_step' ? 'inWC(g)' : unit);

const figures = ['1', '2', '3', '4', '5', '6', '7', '8', '9', '.', '0'];

export interface EntryProps {
  field: Field;
  value: string;
  choices?: { value: string; label: string }[];
  take: (value: string) => void;
  leave: () => void;
}

function Figures({ field, value, take }: EntryProps) {
  const phone = usePhone();
  const units = field.units?.[phone.units] ?? [''];
  const was = /^(-?[\d.]*)(.*)$/.exec(value);
  const [typed, setTyped] = useState(was?.[1] ?? '');
  const [unit, setUnit] = useState(units.includes(was?.[2] ?? '') && value ? was![2]! : units[0]!);
  const press = (key: string) => setTyped((now) => (key === '.' && now.includes('.') ? now : (now + key).slice(0, 7)));
  return (
    <div class="pad">
      <output class="typed" aria-live="polite">{typed || '–'} <small>{shownUnit(field, unit)}</small></output>
      {units.length > 1 && (
        <div class="units" role="group" aria-label={t('pad.unit')}>
          {units.map((one) => (
            <button type="button" key={one} aria-pressed={one === unit} onClick={() => setUnit(one)}>{shownUnit(field, one)}</button>
          ))}
        </div>
      )}
      <div class="keys">
        {figures.map((key) => <button type="button" key={key} onClick={() => press(key)}>{key}</button>)}
        <button type="button" aria-label={t('pad.delete')} onClick={() => setTyped((now) => now.slice(0, -1))}>⌫</button>
      </div>
      {field.below && (
        <button type="button" class="also" onClick={() => setTyped((now) => (now.startsWith('-') ? now.slice(1) : `-${now}`))}>±</button>
      )}
      <button type="button" class="next" disabled={!/\d/.test(typed)} onClick={() => take(`${typed}${unit}`)}>
        {t('pad.take')}
      </button>
    </div>
  );
}

function Words({ field, value, take }: EntryProps) {
  const [typed, setTyped] = useState(value);
  return (
    <form class="words" onSubmit={(event) => { event.preventDefault(); take(typed.trim()); }}>
      <label>
        {field.key === 'print_line' ? t('pipe.line.help') : t(field.label)}
        <input value={typed} autocomplete="off" autocapitalize="characters" spellcheck={false}
          onInput={(event) => setTyped(event.currentTarget.value)} />
      </label>
      <button type="submit" class="next">{t('pad.take')}</button>
    </form>
  );
}

export function Entry(props: EntryProps) {
  const { field, value, take, leave } = props;
  const [typing, setTyping] = useState(props.choices === undefined);
  return (
    <main class="entry">
      <h1>{t(field.label)}</h1>
      {!typing && props.choices && (
        <div class="choices">
          {props.choices.map((choice) => (
            <button type="button" key={choice.value} aria-pressed={choice.value === value} onClick={() => take(choice.value)}>
              {choice.label}
            </button>
          ))}
          {(field.text || field.units) && <button type="button" class="wide" onClick={() => setTyping(true)}>{t('choice.other')}</button>}
        </div>
      )}
      {typing && (field.text ? <Words {...props} /> : <Figures {...props} />)}
      <div class="entry-foot">
        <button type="button" onClick={() => take('')}>{t('choice.unknown')}</button>
        <button type="button" onClick={leave}>{t('app.back')}</button>
      </div>
    </main>
  );
}
