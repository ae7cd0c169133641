// Is it off? One named question, what is closed in, readings, and the engine's sentence.
import { useEffect, useState } from 'preact/hooks';

import type { WatchReply } from '../../../shared/documents';
import { plain } from '../../../shared/plain';
import { resultFact } from '../../../shared/event';
import { clock } from '../../../shared/units';
import { BadInput } from '../../../worker/client';
import { reading, watchFields, type Field } from '../fields';
import { partOf, type Reading } from '../job';
import { troubleText } from '../parts/ask';
import { Figure } from '../parts/figure';
import { GradeLine, type Grade } from '../parts/grade';
import { Rows } from '../parts/form';
import { Entry } from '../parts/pad';
import { Page } from '../parts/page';
import { usePhone } from '../phone';
import { t, type Word } from '../words';

const questions: [string, Word][] = [
  ['shut_off_tight', 'watch.tight'],
  ['fed_elsewhere', 'watch.fed'],
  ['all_meters_shut', 'watch.meters'],
];

export function watchRequest(typed: Record<string, string>, readings: Reading[], units: string, procedure: string) {
  const first = readings[0]?.at_ms ?? 0;
  const { asks = '', volume, draw_low, draw_high, let_by, gauge_step } = typed;
  return {
    question: 'watch',
    asks,
    units,
    procedure,
    ...(volume ? { volume } : {}),
    ...(draw_low && draw_high ? { draw: `${draw_low}:${draw_high}` } : {}),
    ...(let_by ? { let_by } : {}),
    ...(gauge_step ? { gauge_step } : {}),
    ...(readings.length > 0
      ? { readings: readings.map((one) => ({ at_s: (one.at_ms - first) / 1000, pressure: one.typed })) }
      : {}),
  };
}

function useAnswer(): { reply: WatchReply | undefined; trouble: BadInput | undefined } {
  const { engine, form, view, units, company } = usePhone();
  const [reply, setReply] = useState<WatchReply | undefined>();
  const [trouble, setTrouble] = useState<BadInput | undefined>();
  useEffect(() => {
    if (!form.watch['asks']) return;
    const request = watchRequest(form.watch, view.readings, units, company.procedure);
    engine.ask<WatchReply>(request).then(
      ({ document }) => { setReply(document); setTrouble(undefined); },
      (error: unknown) => { if (error instanceof BadInput) setTrouble(error); else throw error; });
  }, [form.watch, view.readings.length, units, company.procedure]);
  return { reply, trouble };
}

function Questions() {
  const phone = usePhone();
  const choose = (asks: string) => phone.setForm({ ...phone.form, watch: { ...phone.form.watch, asks } });
  return (
    <Page title={t('watch.title')}>
      <div class="slabs">
        {questions.map(([asks, word]) => (
          <button type="button" class="slab" key={asks} onClick={() => choose(asks)}>{t(word)}</button>
        ))}
      </div>
    </Page>
  );
}

function Answer({ reply, trouble }: ReturnType<typeof useAnswer>) {
  const { view, now } = usePhone();
  if (trouble) return <p class="note" role="alert">{troubleText(trouble)}</p>;
  if (!reply) return <p class="note" role="status">{t('app.wait')}</p>;
  const first = view.readings[0];
  return (
    <>
      <GradeLine grade={reply.verdict as Grade} />
      {reply.watch_s === null
        ? <p class="note"><b>{t('watch.no_time')}</b></p>
        : <Figure label={t('watch.least')} shown={{ figure: clock(reply.watch_s, 'up'), unit: '' }}
            below={first && t('watch.since', { time: clock((now - first.at_ms) / 1000, 'down'), count: view.readings.length })} />}
      {reply.says && <p class="sentence">{reply.says}</p>}
      {reply.not_concluded.length > 0 && <h2>{t('watch.not')}</h2>}
      <ul class="plain">{reply.not_concluded.map((one) => <li key={one}>{one}</li>)}</ul>
      <ul class="plain">{reply.findings.filter((one) => one.grade !== 'info').map((one) => <li key={one.says}>{one.says} → {plain(one.action)}</li>)}</ul>
    </>
  );
}

export function WatchScreen() {
  const phone = usePhone();
  const answer = useAnswer();
  const [field, setField] = useState<Field | undefined>();
  const { form } = phone;
  const asks = form.watch['asks'];
  if (!asks) return <Questions />;
  const take = async (value: string) => {
    const key = field!.key;
    if (key !== 'reading') phone.setForm({ ...form, watch: { ...form.watch, [key]: value } });
    setField(undefined);
    if (key === 'reading' && value) await readingTaken(value);
  };
  const readingTaken = async (value: string) => {
    const at_ms = Date.now();
    await phone.record({ kind: 'reading', fact: { point: partOf(phone.hole), typed: value, pressure: value }, source: 'typed' });
    const request = watchRequest(form.watch, [...phone.view.readings, { at_ms, typed: value }], phone.units, phone.company.procedure);
    // Where something lacks there is no answer to record; the screen says what lacks.
    const answered = await phone.engine.ask<WatchReply>(request).catch((error: unknown) => { if (!(error instanceof BadInput)) throw error; });
    if (answered) await phone.record({ kind: 'result', fact: await resultFact(request, answered.document), source: 'tapped' });
  };
  if (field) return <Entry key={field.key} field={field} value={form.watch[field.key] ?? ''} take={take} leave={() => setField(undefined)} />;
  return (
    <Page
      title={t(questions.find(([word]) => word === asks)![1])}
      next={{ label: t('watch.reading'), go: () => setField(reading) }}
      also={phone.view.squeezed ? { label: t('rest.cut'), go: () => phone.show('cut') } : undefined}
    >
      <Answer {...answer} />
      <h2>{t('watch.setup')}</h2>
      <Rows fields={watchFields[asks]!} values={form.watch} choose={setField} />
      <div class="rows">
        <button type="button" class="row" onClick={() => phone.setForm({ ...form, watch: { ...form.watch, asks: '' } })}>
          <span>{t('watch.title')}</span><strong>{t('app.back')}</strong>
        </button>
      </div>
    </Page>
  );
}
