// What the procedure and the tool's maker ask before use: eight to a screen at the most. What is not answered is
// recorded as not answered, when the list is left by its end.
import { useState } from 'preact/hooks';

import { Page } from '../parts/page';
import { Prompts } from '../parts/prompts';
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
  const finish = async () => {
    for (const says of open) await phone.record({ kind: 'prompt', fact: { says, answer: 'unknown' }, source: 'tapped' });
    phone.show('now');
  };
  const last = page + 1 === pages;
  return (
    <Page
      title={t('safety.title')}
      next={last ? { label: t('safety.finish'), go: finish } : { label: t('safety.next'), go: () => setPage(page + 1) }}
    >
      <p class="note">{t('safety.page', { page: page + 1, pages })} · {t('safety.open', { count: open.length })}</p>
      <Prompts asked={shown} yes={t('safety.yes')} no={t('safety.no')} />
    </Page>
  );
}
