// The pump's gauge against the engine's band for where the bars are, and which pipes would have read like this.
import { useState } from 'preact/hooks';

import type { GaugeReply } from '../../../shared/documents';
import { gap, oil, says } from '../../../shared/units';
import type { Request } from '../../../worker/quick';
import { pumpField } from '../fields';
import type { Pumped } from '../job';
import { useAsk, Waiting } from '../parts/ask';
import { Findings, worstFirst } from '../parts/findings';
import { Entry } from '../parts/pad';
import { Page } from '../parts/page';
import { Stepper } from '../parts/stepper';
import { usePhone, type Phone } from '../phone';
import { t, type Word } from '../words';
import { pipeText } from './now';

const stages = ['touch', 'half', 'walls_meeting', 'stops'] as const;
type Stage = (typeof stages)[number];

/** Asked of the readings of this closing; the pipe of the map goes with it, where there is one. */
function gaugeRequest({ view, sheet, mapped, units }: Phone): Request | undefined {
  const found = view.pipes.at(-1);
  const tool = sheet?.tool;
  const read = view.pump.filter(({ gap_m }) => gap_m < (sheet?.pipe.od_m ?? 0));
  const [first, last] = [view.bars[0], read.at(-1)];
  if (!found || !tool?.ram_area_m2 || !tool.bar_radius_m || !first || !last || last.at_ms <= first.at_ms) return undefined;
  const { size, pressure, pipe_temperature: warmth } = found;
  return {
    question: 'gauge', units, size, bar_radius_m: tool.bar_radius_m, ram_area_m2: tool.ram_area_m2,
    close_in_s: (last.at_ms - first.at_ms) / 1000,
    readings: read.map(({ gap_m, typed }) => `${gap_m}m ${typed}`),
    ...(pressure ? { pressure } : {}),
    ...(warmth ? { pipe_temperature: `${warmth}:${warmth}` } : {}),
    ...(mapped?.['dr'] ? { map_dr: mapped['dr'] } : {}),
    ...(mapped?.['material'] ? { map_material: mapped['material'] } : {}),
  };
}

/** Whether the pipe found is among those that read like this; nothing where it is not known enough to be looked for. */
function foundFits({ cannot_tell_apart }: GaugeReply, pipe: Record<string, unknown>): boolean | undefined {
  const { dr, material } = pipe;
  if (!dr || pipe['wall']) return undefined;
  return cannot_tell_apart.some((one) => one.ratio === dr && (!material || one.materials.includes(String(material))));
}

function Judged() {
  const phone = usePhone();
  const { reply, ...waiting } = useAsk<GaugeReply>(gaugeRequest(phone));
  const found = phone.view.pipes.at(-1);
  if (!reply || !found) return <Waiting {...waiting} />;
  const fits = foundFits(reply, found);
  return (
    <>
      {fits !== undefined && <p class="sentence">{t(fits ? 'pump.fits' : 'pump.not', { pipe: pipeText(found) })}</p>}
      <Findings findings={worstFirst(reply.findings)} />
      {reply.cannot_tell_apart.length > 0 && <h2>{t('pump.alike')}</h2>}
      <ul class="plain">
        {reply.cannot_tell_apart.map(({ ratio, materials }) => <li key={ratio + materials.join()}>{t('pump.one', { ratio, materials: materials.join(', ') })}</li>)}
      </ul>
    </>
  );
}

export function PumpScreen() {
  const phone = usePhone();
  const { sheet, units, view } = phone;
  const [stage, setStage] = useState<Stage | undefined>();
  const [gap_m, setGap] = useState<number | undefined>();
  const pump = sheet?.pump;
  if (!pump) return <Page title={t('pump.title')}><p class="note">{t('pump.none')}</p></Page>;
  const bandOf = (one: Stage) => {
    const { low, high } = pump[`at_${one}_pa_gauge`];
    if (low === null || high === null) return t('app.unknown');
    return high > 0 ? t('pump.band', { low: says(oil(low, units, 'down')), high: says(oil(high, units, 'up')) }) : t('pump.nothing');
  };
  const leave = () => { setStage(undefined); setGap(undefined); };
  const choose = (one: Stage) => {
    setStage(one);
    setGap(one === 'touch' ? sheet.pipe.od_m : one === 'stops' ? (sheet.gap_m ?? undefined) : undefined);
  };
  if (stage && gap_m === undefined) return <Stepper from={view.bars.at(-1)?.gap_m ?? sheet.pipe.od_m} take={setGap} leave={leave} />;
  if (stage)
    return <Entry field={pumpField} value="" leave={leave} take={async (typed) => {
      leave();
      if (typed) await phone.record({ kind: 'bars', fact: { about: phone.hole, gap_m, pump: typed }, source: 'typed' });
    }} />;
  const last: Pumped | undefined = view.pump.at(-1);
  return (
    <Page title={t('pump.title')} next={{ label: t('pump.back'), go: () => phone.show('close') }}>
      {last && <p class="sentence">{t('pump.read', { typed: last.typed, gap: says(gap(last.gap_m, units, 'nearest')) })}</p>}
      {last && <Judged />}
      <p class="note">{t('pump.which')}</p>
      <div class="rows">
        {stages.map((one) => (
          <button type="button" class="row" key={one} onClick={() => choose(one)}>
            <span>{t(`pump.${one}` as Word)}</span><strong>{bandOf(one)}</strong>
          </button>
        ))}
      </div>
      <p class="note">{t('pump.outside')}</p>
    </Page>
  );
}
