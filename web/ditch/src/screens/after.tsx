// After it was opened: look at the pipe, say what is seen, mark it, and tape it from two things that stay.
import { laidFields } from '../fields';
import { useSection } from '../parts/form';
import { Page } from '../parts/page';
import { Prompts } from '../parts/prompts';
import { usePhone } from '../phone';
import { t } from '../words';

export function AfterScreen() {
  const phone = usePhone();
  const { values, entry, rows } = useSection('laid');
  if (entry) return entry;
  const looks = [t('after.1'), t('after.2'), t('after.3'), ...(phone.sheet?.tool?.instructions.after ?? [])];
  const mark = async (marked: 'yes' | 'no') => {
    const offsets = [1, 2].filter((n) => values[`from_${n}`] && values[`tape_${n}`])
      .map((n) => ({ from: values[`from_${n}`], distance: values[`tape_${n}`] }));
    const fact = { about: phone.hole, what: 'squeeze', marked, offsets, ...(values['depth'] ? { depth: values['depth'] } : {}) };
    await phone.record({ kind: 'laid', fact, source: 'typed' });
    phone.show('now');
  };
  return (
    <Page title={t('after.title')} next={{ label: t('after.marked'), go: () => mark('yes') }} also={{ label: t('after.unmarked'), go: () => mark('no') }}>
      <Prompts asked={looks} yes={t('after.yes')} no={t('after.no')} />
      <h2>{t('after.where')}</h2>
      {rows(laidFields)}
    </Page>
  );
}
