// The one number of a screen.
import type { Shown } from '../../../shared/units';

/** Five wide characters stand closer together: a phone has room for four of them. */
const wide = (figure: string) => figure.length > 4 && !/[.:]/.test(figure);

export function Figure({ label, shown, below }: { label: string; shown: Shown; below?: string }) {
  return (
    <section class="figure" aria-label={`${label}: ${shown.figure} ${shown.unit}`}>
      <p class="figure-label">{label}</p>
      <p class="figure-line">
        <span class={wide(shown.figure) ? 'number wide' : 'number'}>{shown.figure}</span>
      </p>
      <p class="figure-unit">{shown.unit}{below ? <span class="figure-below">{below}</span> : null}</p>
    </section>
  );
}
