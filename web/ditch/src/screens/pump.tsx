// The pump's gauge against the engine's band for where the bars are.
import { useState } from 'preact/hooks';

import { oil, says } from '../../../shared/units';
import { pumpField } from '../fields';
import { Entry } from '../parts/pad';
import { Page } from '../parts/page';
import { usePhone } from '../phone';
import { t, type Word } from '../words';

const stages = ['touch', 'half', 'walls_meeting', 'stops'] as const;
type Stage = (typeof stages)[number];

export function PumpScreen() {
  const phone = usePhone();
  const { sheet, units, view } = phone;
  const [stage, setStage] = useState<Stage | undefined>();
  const [read, setRead] = useState<{ stage: Stage; typed: string } | undefined>();
  const pump = sheet?.pump;
  if (!pump) return <Page title={t('pump.title')}><p class="note">{t('pump.none')}</p></Page>;
  const bandOf = (one: Stage) => {
    const { low, high } = pump[`at_${one}_pa_gauge`];
    return low === null || high === null ? t('app.unknown') : t('pump.band', { low: says(oil(low, units, 'down')), high: says(oil(high, units, 'up')) });
  };
  const gap_m = view.bars.at(-1)?.gap_m ?? sheet.pipe.od_m;
  if (stage)
    return <Entry field={pumpField} value="" leave={() => setStage(undefined)} take={async (typed) => {
      setStage(undefined);
      if (!typed) return;
      await phone.record({ kind: 'bars', fact: { about: phone.hole, gap_m, pump: typed }, source: 'typed' });
      setRead({ stage, typed });
    }} />;
  return (
    <Page title={t('pump.title')} next={{ label: t('pump.back'), go: () => phone.show('close') }}>
      <p class="note">{t('pump.which')}</p>
      <div class="rows">
        {stages.map((one) => (
          <button type="button" class="row" key={one} onClick={() => setStage(one)}>
            <span>{t(`pump.${one}` as Word)}</span><strong>{bandOf(one)}</strong>
          </button>
        ))}
      </div>
      {read && (
        <section class="card">
          <h2>{t(`pump.${read.stage}` as Word)}</h2>
          <p>{t('pump.read', { typed: read.typed })}</p>
          <p>{t('pump.wanted', { band: bandOf(read.stage) })}</p>
        </section>
      )}
      <p class="note">{t('pump.outside')}</p>
    </Page>
  );
}
