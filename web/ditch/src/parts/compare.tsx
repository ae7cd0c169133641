// Before and after as two columns; a line that changed is bold and has a bar at its side; the reasons stand below.
import { t } from '../words';

export interface Line {
  what: string;
  before: string;
  after: string;
}

export function Compare({ lines, source, reasons }: { lines: Line[]; source: string; reasons: string[] }) {
  return (
    <section class="compare">
      <table>
        <thead>
          <tr><td /><th scope="col">{t('verdict.before')}</th><th scope="col">{t('verdict.after')}</th></tr>
        </thead>
        <tbody>
          {lines.map(({ what, before, after }) => (
            <tr key={what} class={before === after ? '' : 'changed'}>
              <th scope="row">{what}</th>
              <td>{before}</td>
              <td>{after}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="source">{source}</p>
      {reasons.length > 0 && <h2>{t('verdict.because')}</h2>}
      <ul class="plain">{reasons.map((reason) => <li key={reason}>{reason}</li>)}</ul>
    </section>
  );
}
