// Where the centre of the bars may stand, drawn to scale along the exposed pipe.
import { reach, says } from '../../../shared/units';
import { Page } from '../parts/page';
import { usePhone } from '../phone';
import { t } from '../words';

export function HoleScreen() {
  const { sheet, units } = usePhone();
  const exposed = sheet?.exposed_m;
  if (!sheet || !exposed) return <Page title={t('hole.title')}><p class="note">{t('hole.none')}</p></Page>;
  const [from, to] = exposed as [number, number];
  const x = (metres: number) => 10 + (340 * (metres - from)) / (to - from);
  const windows = (sheet.windows_m ?? []) as [number, number][];
  const texts = windows.map(([a, b]) => t('hole.windows', { from: says(reach(a, units, 'up')), to: says(reach(b, units, 'down')) }));
  const words = texts.length > 0 ? texts : [t('hole.no_window')];
  return (
    <Page title={t('hole.title')}>
      <svg class="hole" viewBox="0 0 360 150" role="img" aria-label={t('hole.picture', { windows: words.join('. ') })}>
        <rect class="pipe" x="10" y="60" width="340" height="30" />
        {windows.map(([a, b]) => <rect class="window" key={a} x={x(a)} y="40" width={Math.max(x(b) - x(a), 2)} height="70" />)}
        {sheet.features.map(({ kind, at_m: [a] }) => (
          <g key={`${kind}${a}`}>
            <path class="mark" d={`M${x(a!)} 50V100`} />
            <text x={x(a!)} y="126">{kind}</text>
          </g>
        ))}
        {sheet.place_m !== null && (
          <g>
            <path class="bars" d={`M${x(sheet.place_m)} 28V56M${x(sheet.place_m)} 94V122`} />
            <text x={x(sheet.place_m)} y="20">{t('hole.bars')}</text>
          </g>
        )}
      </svg>
      <ul class="plain large">{words.map((text) => <li key={text}>{text}</li>)}</ul>
      {sheet.clearance_m !== null && <p class="note">{t('hole.clearance', { length: says(reach(sheet.clearance_m, units, 'up')) })}</p>}
    </Page>
  );
}
