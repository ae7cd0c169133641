// One job, one number, one next step. And, one tap away, the rest.
import { clock } from '../../../shared/units';
import { nextStep, type Screen } from '../job';
import { Figure } from '../parts/figure';
import { GradeLine } from '../parts/grade';
import { Page } from '../parts/page';
import { usePhone } from '../phone';
import { t, type Word } from '../words';

export function pipeText(pipe: Record<string, unknown> | undefined): string {
  if (pipe === undefined) return t('app.unknown');
  return [pipe['size'], pipe['dr'] ? `DR ${pipe['dr']}` : '', pipe['material']].filter(Boolean).join(' ');
}

export function NowScreen() {
  const phone = usePhone();
  const { view } = phone;
  const next = nextStep(view);
  const pipe = view.pipes.at(-1);
  return (
    <Page title={view.title} next={{ label: t(`now.${next}` as Word), go: () => phone.show(next) }}>
      <Figure label={t('now.since')} shown={{ figure: clock((phone.now - view.began_ms) / 1000, 'down'), unit: '' }} />
      {phone.sheet && <GradeLine grade={phone.sheet.verdict} />}
      <dl class="facts">
        {phone.form.map && <div><dt>{t('now.map')}</dt><dd>{pipeText(phone.form.map)}</dd></div>}
        <div><dt>{t('now.found')}</dt><dd>{pipeText(pipe)}</dd></div>
      </dl>
      <p class="safe">{t('now.recorded', { count: view.events })}</p>
    </Page>
  );
}

const all: Screen[] = ['zone', 'pipe', 'verdict', 'reasons', 'safety', 'hole', 'close', 'watch', 'open', 'handover', 'log', 'company'];

export function RestScreen() {
  const phone = usePhone();
  return (
    <Page title={t('rest.title')} also={{ label: t('rest.leave'), go: phone.leave }}>
      <div class="choices">
        {all.map((screen) => (
          <button type="button" key={screen} onClick={() => phone.show(screen)}>{t(`rest.${screen}` as Word)}</button>
        ))}
        <button type="button" class="wide" onClick={phone.changeLook}>
          {t('app.look.label', { look: t(phone.night ? 'app.look.night' : 'app.look.day') })}
        </button>
      </div>
    </Page>
  );
}
