// The company's profile and tools, from files on this phone. The engine reads them, and says what is wrong with them.
import { useState } from 'preact/hooks';

import { Page } from '../parts/page';
import { usePhone } from '../phone';
import { t } from '../words';

function FileButton({ label, take }: { label: string; take: (text: string, name: string) => Promise<void> }) {
  return (
    <label class="file">
      {label}
      <input type="file" accept=".json,application/json"
        onChange={async (event) => {
          const file = event.currentTarget.files?.[0];
          if (file) await take(await file.text(), file.name);
        }} />
    </label>
  );
}

export function CompanyScreen() {
  const phone = usePhone();
  const { company } = phone;
  const [trouble, setTrouble] = useState('');
  const guarded = (load: (text: string, name: string) => Promise<void>) => (text: string, name: string) =>
    load(text, name).then(() => setTrouble(''), (error: Error) => setTrouble(error.message));
  const own = !['us', 'metric'].includes(company.procedure);
  return (
    <Page title={t('company.title')}>
      <div class="choices one">
        <button type="button" aria-pressed={company.procedure === 'us'} onClick={() => phone.setProcedure('us')}>{t('company.us')}</button>
        <button type="button" aria-pressed={company.procedure === 'metric'} onClick={() => phone.setProcedure('metric')}>{t('company.metric')}</button>
      </div>
      {own && <p class="note"><b>{t('company.profile')}</b> {t('company.own', { name: company.profileTitle })}</p>}
      <p class="note">{t('company.note')}</p>
      <FileButton label={t('company.load')} take={guarded(phone.loadProfile)} />
      <FileButton label={t('company.tools')} take={guarded(phone.loadTools)} />
      {company.toolsTitle && <p class="note">{t('company.tools.have', { name: company.toolsTitle })}</p>}
      {trouble && <p class="note" role="alert"><b>{t('app.bad')}</b> {trouble}</p>}
    </Page>
  );
}
