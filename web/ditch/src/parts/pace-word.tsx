// Slow down, on pace, wait: a word, a shape of its own, and how long.
import { clock } from '../../../shared/units';
import type { Pace, Standing } from '../pace';
import { t } from '../words';

const shapes: Record<Pace, string> = {
  move: 'M6 24H36M26 12L42 24L26 36',
  wait: 'M14 8V40M34 8V40',
  slow: 'M6 24H42M6 12H42M6 36H42',
  there: 'M6 8V40M42 8V40M12 24H36',
};

export function PaceWord({ now }: { now: Standing }) {
  return (
    <p class={`pace-word ${now.pace}`} role="status">
      <svg viewBox="0 0 48 48" aria-hidden="true"><path d={shapes[now.pace]} /></svg>
      <strong>{t(`pace.${now.pace}`)}</strong>
      {now.left_s > 0 && <span aria-hidden="true">{t('pace.left', { time: clock(now.left_s, 'up') })}</span>}
    </p>
  );
}
