// Who answers for what, by name: one tap signs, and what was signed stays.
import { nameFields } from '../fields';
import { useSection } from '../parts/form';
import { Page } from '../parts/page';
import { usePhone } from '../phone';
import { t } from '../words';

const matters = ['sign.briefed', 'sign.accepted', 'sign.off', 'sign.tested', 'sign.back', 'sign.closed'] as const;

export function SignScreen() {
  const phone = usePhone();
  const { values, entry, rows } = useSection('name');
  if (entry) return entry;
  const own = values['own'] ?? '';
  const sign = (what: string) => phone.record({ kind: 'signed', fact: { what }, source: 'tapped' });
  return (
    <Page title={t('sign.title')}>
      {rows(nameFields.slice(0, 1))}
      <p class="note">{t(own ? 'sign.as' : 'sign.first', { own })}</p>
      <div class="rows">
        {matters.map((word) => {
          const by = phone.view.signed.filter(({ what }) => what === t(word)).map((one) => `${one.by} ${one.at.slice(11, 16)}`);
          return (
            <button type="button" class="row" key={word} disabled={!own} onClick={() => sign(t(word))}>
              <span>{t(word)}</span><strong class={by.length ? '' : 'empty'}>{by.join(', ') || t('sign.nobody')}</strong>
            </button>
          );
        })}
      </div>
    </Page>
  );
}
