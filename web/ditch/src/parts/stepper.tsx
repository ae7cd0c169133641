// A measured gap in taps: from where the table stands, by a large step and a small one.
import { useState } from 'preact/hooks';

import { gap, says } from '../../../shared/units';
import { usePhone } from '../phone';
import { t } from '../words';
import { Figure } from './figure';
import { Page } from './page';

// A tenth of an inch and two hundredths; five millimetres and a half.
const steps = { us: [0.1 * 0.0254, 0.02 * 0.0254], metric: [0.005, 0.0005] };

export function Stepper({ from, take, leave }: { from: number; take: (metres: number) => void; leave: () => void }) {
  const { units } = usePhone();
  const finest = steps[units][1]!;
  const [metres, setMetres] = useState(Math.round(from / finest) * finest);
  const shown = gap(metres, units, 'nearest');
  return (
    <Page title={t('pace.measure')} next={{ label: t('pace.record', { gap: says(shown) }), go: () => take(metres) }} also={{ label: t('app.back'), go: leave }}>
      <Figure label={t('field.gap')} shown={shown} />
      {steps[units].map((step) => (
        <div class="pair" key={step}>
          <button type="button" onClick={() => setMetres((now) => Math.max(now - step, 0))}>
            {t('pace.less')} <small>{t('pace.fine', { step: says(gap(step, units, 'nearest')) })}</small>
          </button>
          <button type="button" onClick={() => setMetres((now) => now + step)}>
            {t('pace.more')} <small>{t('pace.fine', { step: says(gap(step, units, 'nearest')) })}</small>
          </button>
        </div>
      ))}
    </Page>
  );
}
