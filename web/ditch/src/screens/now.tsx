// One job, one number, one next step. And, one tap away, the rest.
import { clock } from '../../../shared/units';
import { behind, nextStep, type Screen } from '../job';
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
  const step = view.plan?.steps.find((one) => !behind(view, one));
  return (
    <Page title={view.title} next={{ label: t(`now.${next}` as Word), go: () => phone.show(next) }}>
      <Figure label={t('now.since')} shown={{ figure: clock((phone.now - view.began_ms) / 1000, 'down'), unit: '' }} />
      {step && view.accepted && <p class="does">{step.does}</p>}
      {phone.sheet && <GradeLine grade={phone.sheet.verdict} />}
      <dl class="facts">
        {phone.mapped && <div><dt>{t('now.map')}</dt><dd>{pipeText(phone.mapped)}</dd></div>}
        <div><dt>{t('now.found')}</dt><dd>{pipeText(pipe)}</dd></div>
      </dl>
      <p class="safe">{t('now.recorded', { count: view.events })}</p>
    </Page>
  );
}

const all: [Word, Screen[]][] = [
  ['rest.before', ['plan', 'steps', 'clock', 'pipe', 'verdict', 'again', 'reasons', 'hole', 'safety', 'static']],
  ['rest.on', ['close', 'pump', 'watch', 'left', 'vent', 'radio', 'open', 'cut']],
  ['rest.putting_back', ['fuse', 'test', 'purge', 'after', 'customers', 'order', 'back']],
  ['rest.record', ['photos', 'sign', 'meet', 'handover', 'log', 'company', 'zone']],
];

export function RestScreen() {
  const phone = usePhone();
  return (
    <Page title={t('rest.title')} also={{ label: t('rest.leave'), go: phone.leave }}>
      {all.map(([part, screens]) => (
        <section key={part}>
          <h2>{t(part)}</h2>
          <div class="choices">
            {screens.map((screen) => (
              <button type="button" key={screen} onClick={() => phone.show(screen)}>{t(`rest.${screen}` as Word)}</button>
            ))}
          </div>
        </section>
      ))}
      <button type="button" onClick={phone.changeLook}>{t('app.look.label', { look: t(phone.night ? 'app.look.night' : 'app.look.day') })}</button>
    </Page>
  );
}
