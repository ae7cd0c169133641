// A file from this phone. The engine reads it, and says what is wrong with it.
import { useState } from 'preact/hooks';

import { t } from '../words';

export function FileButton({ label, take }: { label: string; take: (text: string, name: string) => Promise<void> }) {
  const [trouble, setTrouble] = useState('');
  const chosen = async (input: HTMLInputElement) => {
    const file = input.files?.[0];
    if (!file) return;
    await take(await file.text(), file.name).then(() => setTrouble(''), (error: Error) => setTrouble(error.message));
    input.value = '';
  };
  return (
    <>
      <label class="file">
        {label}
        <input type="file" accept=".json,.jsonl,application/json" onChange={(event) => chosen(event.currentTarget)} />
      </label>
      {trouble && <p class="note" role="alert"><b>{t('app.bad')}</b> {trouble}</p>}
    </>
  );
}
