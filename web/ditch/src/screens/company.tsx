// The company's profile and tools, from files on this phone. The engine reads them, and says what is wrong with them.
import { FileButton } from '../parts/file';
import { Page } from '../parts/page';
import { usePhone } from '../phone';
import { t } from '../words';

export function CompanyScreen() {
  const phone = usePhone();
  const { company } = phone;
  const own = !['us', 'metric'].includes(company.procedure);
  return (
    <Page title={t('company.title')}>
      <div class="choices one">
        <button type="button" aria-pressed={company.procedure === 'us'} onClick={() => phone.setProcedure('us')}>{t('company.us')}</button>
        <button type="button" aria-pressed={company.procedure === 'metric'} onClick={() => phone.setProcedure('metric')}>{t('company.metric')}</button>
      </div>
      {own && <p class="note"><b>{t('company.profile')}</b> {t('company.own', { name: company.profileTitle })}</p>}
      <p class="note">{t('company.note')}</p>
      <FileButton label={t('company.load')} take={phone.loadProfile} />
      <FileButton label={t('company.tools')} take={phone.loadTools} />
      {company.toolsTitle && <p class="note">{t('company.tools.have', { name: company.toolsTitle })}</p>}
    </Page>
  );
}
