// Closing and opening by the engine's timetable: the gap that the bars may have now, the word, and what to read out.
import { useEffect, useState } from 'preact/hooks';

import { clock, gap, oil, says } from '../../../shared/units';
import type { JobView } from '../job';
import { standing, type Pace, type Standing, type Timetable } from '../pace';
import { Bars } from '../parts/bars';
import { Figure } from '../parts/figure';
import { Page } from '../parts/page';
import { PaceWord } from '../parts/pace-word';
import { Stepper } from '../parts/stepper';
import { usePhone } from '../phone';
import { GateScreen } from './gate';
import { sound } from '../tone';
import { t, type Word } from '../words';

type Way = 'close' | 'open';

/** Before a cut it is undone, and nothing stands before that; after a cut it is opened, behind a gate. */
const opening = ({ cut }: JobView) => (cut ? 'opened' as const : 'undone' as const);

function useTone(pace: Pace | undefined, on: boolean) {
  useEffect(() => {
    if (pace && on) sound(pace);
  }, [pace, on]);
}

function ReadOut({ now, way }: { now: Standing; way: Way }) {
  const { units, sheet } = usePhone();
  const unit = sheet?.tool?.counted_in === 'turns' ? t('pace.turns') : t('pace.strokes');
  const put = {
    word: t(`pace.${now.pace}`),
    gap: says(gap(now.gap_m, units, way === 'close' ? 'up' : 'down')),
    unit,
    count: now.count === null ? '' : Math.floor(now.count),
  };
  return <p class="read-out"><b>{t('pace.read_out')}</b> {t(now.count === null ? 'pace.say' : 'pace.say.count', put)}</p>;
}

function Running({ way, table }: { way: Way; table: Timetable }) {
  const phone = usePhone();
  const [measuring, setMeasuring] = useState(false);
  const points = phone.view.bars.map((point) => ({ at_s: point.at_ms / 1000, gap_m: point.gap_m }));
  const now = standing(table, points, phone.now / 1000);
  useTone(now.pace, phone.tone);
  const side = way === 'close' ? 'up' : 'down';
  const done = async (did: 'shut' | 'undone' | 'opened') => {
    await phone.record({ kind: 'act', fact: { did, about: phone.hole }, source: 'tapped' });
    phone.show('now');
  };
  const measured = async (metres: number) => {
    await phone.record({ kind: 'bars', fact: { about: phone.hole, gap_m: metres }, source: 'tapped' });
    setMeasuring(false);
  };
  if (measuring) return <Stepper from={now.gap_m} take={measured} leave={() => setMeasuring(false)} />;
  const shown = gap(now.gap_m, phone.units, side);
  const last = points.length > 1 ? points.at(-1) : undefined;
  const next = way === 'close'
    ? { label: t('pace.bears'), go: () => done('shut') }
    : { label: t('pace.round'), go: () => done(opening(phone.view)) };
  return (
    <Page title={t(`pace.${way}`)} next={next} also={{ label: t('pace.measure'), go: () => setMeasuring(true) }}>
      <PaceWord now={now} />
      <Figure label={t(way === 'close' ? 'pace.target' : 'pace.target.open')} shown={shown}
        below={last && t('pace.recorded', { gap: says(gap(last.gap_m, phone.units, 'nearest')) })} />
      <ReadOut now={now} way={way} />
      <Bars gap_m={now.gap_m} open_m={phone.sheet!.pipe.od_m} last_m={last?.gap_m} />
      <div class="pair">
        <button type="button" aria-pressed={phone.tone} onClick={() => phone.setTone(!phone.tone)}>
          {t(phone.tone ? 'pace.sound.on' : 'pace.sound.off')}
        </button>
        {way === 'close' && <button type="button" onClick={() => phone.show('pump')}>{t('rest.pump')}</button>}
        {way === 'close' && <button type="button" class="wide" onClick={() => phone.show('limit')}>{t('pace.limit')}</button>}
      </div>
    </Page>
  );
}

export function PaceScreen({ way }: { way: Way }) {
  const phone = usePhone();
  const { sheet, view } = phone;
  const [passed, setPassed] = useState(false);
  const table = sheet?.[way];
  const title = t(`pace.${way}` as Word);
  if (!sheet) return <Page title={title}><p class="note" role="status">{t('now.pipe.why')}</p></Page>;
  const bare = async () => {
    await phone.record({ kind: 'act', fact: { did: way === 'close' ? 'shut' : opening(view), about: phone.hole }, source: 'tapped' });
    phone.show('now');
  };
  const begin = async () => {
    const first = (table!.steps as { from_gap_m: number }[])[0]!.from_gap_m;
    await phone.record({ kind: 'bars', fact: { about: phone.hole, gap_m: first }, source: 'tapped' });
  };
  if (way === 'open' && view.cut && view.bars.length === 0 && !passed)
    return <GateScreen gate="open_after_cut" label={t('pace.begin.open')} go={() => (table ? void begin() : setPassed(true))} />;
  const label = t(way === 'close' ? 'pace.bears' : 'pace.round');
  if (!table) return <Page title={title} next={{ label, go: bare }}><p class="note">{t('pace.none')}</p></Page>;
  if (view.bars.length > 0) return <Running way={way} table={table} />;
  const pump = sheet.pump?.at_stops_pa_gauge;
  return (
    <Page title={title} next={{ label: t(`pace.begin.${way}` as Word), go: begin }}
      also={way === 'close' ? { label: t('rest.safety'), go: () => phone.show('safety') } : undefined}>
      <Figure label={t(`pace.total.${way}` as Word)} shown={{ figure: clock(table.shortest_with_waits_s, 'up'), unit: '' }} />
      {way === 'close' && pump?.low != null && pump.high !== null && (
        <p class="note">{t('pace.pump', { low: says(oil(pump.low, phone.units, 'down')), high: says(oil(pump.high, phone.units, 'up')) })}</p>
      )}
    </Page>
  );
}

/** At the pump's limit and not on the stops: not shut, and how long to wait before the next try. */
export function LimitScreen() {
  const phone = usePhone();
  const limit = phone.sheet?.at_limit;
  const [since] = useState(phone.now);
  if (!limit) return <Page title={t('pace.not_shut')}><p class="note">{t('app.unknown')}</p></Page>;
  const left = limit.wait_s === null ? null : limit.wait_s - (phone.now - since) / 1000;
  return (
    <Page title={t('pace.not_shut')} next={{ label: t('app.back'), go: () => phone.show('close') }}>
      {left !== null && <Figure label={t('pace.wait')} shown={{ figure: clock(left, 'up'), unit: '' }} />}
      <p class="note large">{limit.says}</p>
    </Page>
  );
}
