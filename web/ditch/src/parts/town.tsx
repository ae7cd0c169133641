// What a question about a planned job needs: the plan that is on the table, and its town.
import { usePhone } from '../phone';
import { t } from '../words';
import { FileButton } from './file';

/** Nothing where both are on this phone; else what lacks, and a button to bring the town in. */
export function TownLacks() {
  const { files, loadNetwork } = usePhone();
  if (!files.plan) return <p class="note">{t('plan.none')}</p>;
  if (files.network) return null;
  return (
    <>
      <p class="note">{t('left.network')}</p>
      <FileButton label={t('left.load')} take={loadNetwork} />
    </>
  );
}

/** The keys that name them; nothing while one lacks. */
export function useTown(): Record<string, string> | undefined {
  const { files, company, units } = usePhone();
  return files.plan && files.network ? { plan: files.plan, network: files.network, procedure: company.procedure, units } : undefined;
}
