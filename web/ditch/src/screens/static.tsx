// Against static, one thing after the other, each with its time; then how long ago the cloth was wetted.
import { clock } from '../../../shared/units';
import { Figure } from '../parts/figure';
import { Page } from '../parts/page';
import { usePhone } from '../phone';
import { t } from '../words';

const sequence = ['static.1', 'static.2', 'static.3', 'static.4'] as const;

export function StaticScreen() {
  const phone = usePhone();
  const { prompts } = phone.view;
  const at = sequence.findIndex((word) => !prompts.has(t(word)));
  const says = t(sequence[at === -1 ? sequence.length - 1 : at]!);
  const answer = (given: string) => phone.record({ kind: 'prompt', fact: { says, answer: given }, source: 'tapped' });
  const wetted = prompts.get(t('static.4'));
  if (at === -1)
    return (
      <Page title={t('static.title')} next={{ label: t('static.again'), go: () => answer('yes') }}
        also={{ label: t('app.back'), go: () => phone.show('now') }}>
        <Figure label={t('static.since')} shown={{ figure: clock((phone.now - wetted!.at_ms) / 1000, 'down'), unit: '' }} />
        <ul class="plain">
          {sequence.map((word) => <li key={word}>{t(word)} <b>{t(prompts.get(t(word))!.answer === 'yes' ? 'safety.yes' : 'safety.no')}</b></li>)}
        </ul>
        <p class="note">{t('static.company')}</p>
      </Page>
    );
  return (
    <Page title={t('static.title')} next={{ label: t('safety.yes'), go: () => answer('yes') }} also={{ label: t('safety.no'), go: () => answer('no') }}>
      <p class="note">{t('static.at', { at: at + 1, all: sequence.length })}</p>
      <p class="does">{says}</p>
    </Page>
  );
}
