// What to fit, what is said against it, and who decides. Before stands beside after, with the reason between them.
import { gap } from '../../../shared/units';
import { because, compare } from '../compare';
import { Compare } from '../parts/compare';
import { Figure } from '../parts/figure';
import { Decides, Findings, worstFirst } from '../parts/findings';
import { GradeLine, type Grade } from '../parts/grade';
import { Page } from '../parts/page';
import { usePhone } from '../phone';
import { t, type Word } from '../words';

const fewest = 3;

function BeforeAfter() {
  const phone = usePhone();
  const { sheet, before, view } = phone;
  if (!sheet || !before) return null;
  const shown = (what: string, value: string) => (what === 'verdict' ? t(`grade.${value}` as Word) : value);
  const lines = compare(before, sheet, phone.units, t('app.none')).map(({ what, before: old, after }) => ({
    what: t(`line.${what}` as Word), before: shown(what, old), after: shown(what, after),
  }));
  const other = view.plan && lines[0]!.before !== lines[0]!.after;
  return (
    <>
      <Compare lines={lines} source={t(view.pipes.length > 1 ? 'verdict.earlier' : 'verdict.map')} reasons={because(before, sheet).slice(0, fewest)} />
      {other && <button type="button" onClick={() => phone.show('again')}>{t('rest.again')}</button>}
    </>
  );
}

export function VerdictScreen() {
  const phone = usePhone();
  const { sheet } = phone;
  if (!sheet) return <Page title={t('verdict.title')}><p class="note" role="status">{t('app.wait')}</p></Page>;
  const label = sheet.stop ? t('verdict.stop', { id: sheet.stop.id }) : t('verdict.no_stop');
  const worst = worstFirst(sheet.findings);
  return (
    <Page
      title={t('verdict.title')}
      next={{ label: t('verdict.close'), go: () => phone.show('close') }}
      also={worst.length > 0 ? { label: t('verdict.reasons', { count: worst.length }), go: () => phone.show('reasons') } : undefined}
    >
      <GradeLine grade={sheet.verdict as Grade} large />
      <Decides who={sheet.decides} />
      {sheet.gap_m === null ? <p class="note">{t('verdict.no_gap')}</p> : <Figure label={label} shown={gap(sheet.gap_m, phone.units, 'nearest')} />}
      <BeforeAfter />
      <Findings findings={worst.slice(0, fewest)} />
    </Page>
  );
}

export function ReasonsScreen() {
  const { sheet } = usePhone();
  return (
    <Page title={t('reasons.title')}>
      {sheet && sheet.findings.length > 0 ? <Findings findings={worstFirst(sheet.findings)} sources /> : <p class="note">{t('reasons.none')}</p>}
      {sheet && sheet.assumed.length > 0 && (
        <section>
          <h2>{t('reasons.assumed')}</h2>
          <ul class="plain">{sheet.assumed.map((one) => <li key={one}>{one}</li>)}</ul>
        </section>
      )}
    </Page>
  );
}
