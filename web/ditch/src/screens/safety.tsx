// What the procedure and the tool's maker ask before use: eight to a screen at the most. What is not answered is
// recorded as not answered, when the list is left by its end.
import { useState } from 'preact/hooks';

import { Page } from '../parts/page';
import { usePhone } from '../phone';
import { t } from '../words';

const most = 4;

export function SafetyScreen() {
  const phone = usePhone();
  const [page, setPage] = useState(0);
  const asked = [...(phone.sheet?.prompts.map((prompt) => prompt.says) ?? []), ...(phone.sheet?.tool?.instructions.before ?? [])];
  const pages = Math.max(Math.ceil(asked.length / most), 1);
  const shown = asked.slice(page * most, (page + 1) * most);
  const open = asked.filter((says) => !phone.view.prompts.has(says));
  const answer = (says: string, given: string) => phone.record({ kind: 'prompt', fact: { says, answer: given }, source: 'tapped' });
  const finish = async () => {
    for (const says of open) await answer(says, 'unknown');
    phone.show('now');
  };
  const last = page + 1 === pages;
  return (
    <Page
      title={t('safety.title')}
      next={last ? { label: t('safety.finish'), go: finish } : { label: t('safety.next'), go: () => setPage(page + 1) }}
    >
      <p class="note">{t('safety.page', { page: page + 1, pages })} · {t('safety.open', { count: open.length })}</p>
      <ul class="prompts">
        {shown.map((says) => {
          const given = phone.view.prompts.get(says);
          return (
            <li key={says}>
              <p>{says}</p>
              <div class="pair" role="group" aria-label={says}>
                <button type="button" aria-pressed={given === 'yes'} onClick={() => answer(says, 'yes')}>{t('safety.yes')}</button>
                <button type="button" aria-pressed={given === 'no'} onClick={() => answer(says, 'no')}>{t('safety.no')}</button>
              </div>
            </li>
          );
        })}
      </ul>
    </Page>
  );
}
