// The pipe found. What is typed here is kept as it is typed; "This is the pipe" makes it a fact, and then the sheet is
// asked for.
import { useState } from 'preact/hooks';

import type { PrintLineReply, SqueezeReply } from '../../../shared/documents';
import { resultFact } from '../../../shared/event';
import { pipeFields, type Field } from '../fields';
import { hole } from '../job';
import { Entry } from '../parts/pad';
import { Page } from '../parts/page';
import { pipeFact, squeezeRequest, usePhone } from '../phone';
import { printLine } from '../practice';
import { t, type Word } from '../words';
import { pipeText } from './now';

function shownValue(field: Field, value: string): string {
  return field.key === 'plain' ? t(`choice.plain.${value}` as Word) : value;
}

export function PipeScreen() {
  const phone = usePhone();
  const { form } = phone;
  const [field, setField] = useState<Field | undefined>();
  const [left, setLeft] = useState<string[]>([]);
  const typed = form.pipe;

  const readLine = async (text: string) => {
    const { document } = await phone.engine.ask<PrintLineReply>({ question: 'print-line', text });
    const year = document.component?.made?.year;
    const found = { size: document.size, dr: document.ratio, material: document.material, year };
    const sure = Object.entries(found).filter(([, value]) => value != null).map(([key, value]) => [key, String(value)]);
    setLeft(document.not_understood);
    phone.setForm({ ...form, pipe: { ...typed, print_line: text, ...Object.fromEntries(sure) } });
  };
  const take = (value: string) => {
    const key = field!.key;
    setField(undefined);
    phone.setForm({ ...form, pipe: { ...typed, [key]: value } });
    if (key === 'print_line' && value) readLine(value).catch(() => setLeft([value]));
  };
  const choicesOf = (one: Field) => {
    if (one.key === 'tool')
      return [...phone.company.tools.map(({ id, title }) => ({ value: id, label: `${id}: ${title}` }))];
    return one.choices?.[phone.units].map((value) => ({ value, label: shownValue(one, value) }));
  };
  const use = async () => {
    const fact = {
      about: hole,
      pipe: pipeFact(typed),
      says: pipeText(pipeFact(typed)),
      ...(typed['print_line'] ? { print_line: typed['print_line'] } : {}),
      ...(form.map ? { map_said: pipeText(pipeFact(form.map)) } : {}),
    };
    await phone.record({ kind: 'pipe_found', fact, source: 'typed' });
    phone.show('verdict');
    const request = squeezeRequest(fact.pipe, form, phone.company, phone.units);
    const { document } = await phone.engine.ask<SqueezeReply>(request);
    await phone.record({ kind: 'result', fact: await resultFact(request, document), source: 'tapped' });
  };

  if (field)
    return <Entry key={field.key} field={field} value={typed[field.key] ?? ''} choices={choicesOf(field)} take={take} leave={() => setField(undefined)} />;
  return (
    <Page title={t('pipe.title')} next={{ label: typed['size'] ? t('pipe.use') : t('pipe.need'), go: use, disabled: !typed['size'] }}>
      {phone.view.work === 'drill' && <p class="note">{t('practice.line', { line: printLine })}</p>}
      {left.length > 0 && <p class="note">{t('pipe.line.left', { words: left.join(' ') })}</p>}
      <div class="rows">
        {pipeFields.map((one) => {
          const value = typed[one.key] ? shownValue(one, typed[one.key]!) : '';
          return (
            <button type="button" class="row" key={one.key} onClick={() => setField(one)}>
              <span>{t(one.label)}</span>
              <strong class={value ? '' : 'empty'}>{value || t('app.unknown')}</strong>
            </button>
          );
        })}
      </div>
    </Page>
  );
}
