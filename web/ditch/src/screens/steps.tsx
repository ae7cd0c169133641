// The plan's steps, one at a time: what to do, before what, what the gauges may read, and what if not. A heavy rule marks a
// hold point: nobody goes on before a person answers for it by name.
import { useState } from 'preact/hooks';

import { gauge, says } from '../../../shared/units';
import { nameFields, reading } from '../fields';
import { behind, screenOf, type Gauge, type Step } from '../job';
import { useSection } from '../parts/form';
import { Entry } from '../parts/pad';
import { Page } from '../parts/page';
import { usePhone } from '../phone';
import { t, type Word } from '../words';

function GaugeRow({ one, read }: { one: Gauge; read: () => void }) {
  const { units } = usePhone();
  const shown = (value: number | undefined, side: 'up' | 'down') => (value === undefined ? t('app.unknown') : says(gauge(value, units, side)));
  return (
    <button type="button" class="row" onClick={read}>
      <span><b>{one.point}</b> {one.at}</span>
      <strong>{t('steps.band', { low: shown(one.low_pa_gauge, 'up'), high: shown(one.high_pa_gauge, 'down') })}</strong>
    </button>
  );
}

function Says({ word, says: text }: { word: Word; says: string | undefined }) {
  return text ? <p class="note"><b>{t(word)}</b> {text}</p> : null;
}

function post(step: Step): string {
  return [step.post?.role, step.post?.place].filter(Boolean).join(', ');
}

export function StepsScreen() {
  const phone = usePhone();
  const { view } = phone;
  const all = view.plan?.steps ?? [];
  const first = Math.max(all.findIndex((step) => !behind(view, step)), 0);
  const [moved, setMoved] = useState<number | undefined>();
  const [point, setPoint] = useState('');
  const { values, entry, rows } = useSection('name');
  const at = moved ?? first;
  const step = all[at];
  if (!step) return <Page title={t('steps.title')}><p class="note">{t('plan.none')}</p></Page>;
  if (entry) return entry;
  if (point)
    return <Entry field={reading} value="" leave={() => setPoint('')} take={async (typed) => {
      setPoint('');
      if (typed) await phone.record({ kind: 'reading', fact: { point, step: step.id, typed, pressure: typed }, source: 'typed' });
    }} />;
  const needed = step.names_needed ?? 0;
  const named = (needed < 1 || values['own']) && (needed < 2 || values['second']);
  const answer = async (given: string) => {
    const second = needed > 1 && values['second'] ? { second: values['second'] } : {};
    await phone.record({ kind: 'step', fact: { step: step.id, answer: given, ...second }, source: 'tapped' });
    setMoved(given === 'no' ? at : undefined);
  };
  const help = screenOf[step.kind];
  const given = view.answers.get(step.id);
  return (
    <Page title={t('steps.at', { at: at + 1, all: all.length })}
      next={{ label: named ? t('steps.done') : t('steps.names', { count: needed }), go: () => answer('yes'), disabled: !named }}
      also={help && { label: t(`rest.${help}` as Word), go: () => phone.show(help) }}>
      {step.hold_point && <p class="hold">{t('steps.hold')}</p>}
      {step.point_of_no_return && <p class="hold">{t('steps.no_return')}</p>}
      <p class="does">{step.does}</p>
      {given && <p class="note">{t('steps.given', { answer: t(`answer.${given}` as Word) })}</p>}
      <Says word="steps.post" says={post(step)} />
      <Says word="steps.before" says={step.precondition} />
      {(step.gauges ?? []).map((one) => <GaugeRow key={one.point} one={one} read={() => setPoint(one.point)} />)}
      <Says word="steps.if_not" says={step.if_not} />
      <Says word="steps.tell" says={step.report_to} />
      {needed > 0 && rows(nameFields.slice(0, needed))}
      <div class="pair">
        <button type="button" onClick={() => answer('no')}>{t('answer.no')}</button>
        <button type="button" onClick={() => answer('not_needed')}>{t('answer.not_needed')}</button>
        <button type="button" disabled={at === 0} onClick={() => setMoved(at - 1)}>{t('steps.previous')}</button>
        <button type="button" disabled={at + 1 === all.length} onClick={() => setMoved(at + 1)}>{t('steps.next')}</button>
      </div>
    </Page>
  );
}
