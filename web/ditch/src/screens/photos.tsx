// Four pictures that somebody will ask for in five years. Each is kept on this phone by its hash; the log holds the hash.
import { useEffect, useState } from 'preact/hooks';

import { Page } from '../parts/page';
import { usePhone } from '../phone';
import { t, type Word } from '../words';

const views = ['print_line', 'tool', 'gap', 'mark'] as const;

function Picture({ hash, says }: { hash: string; says: string }) {
  const phone = usePhone();
  const [url, setUrl] = useState('');
  useEffect(() => {
    let made = '';
    void phone.store.blob(hash).then((blob) => { if (blob) setUrl(made = URL.createObjectURL(blob)); });
    return () => URL.revokeObjectURL(made);
  }, [hash]);
  return url ? <img src={url} alt={says} /> : null;
}

export function PhotosScreen() {
  const phone = usePhone();
  const { photos } = phone.view;
  const take = async (view: string, file: File | undefined) => {
    if (!file) return;
    const blob = await phone.store.keepBlob(file);
    await phone.record({ kind: 'photo', fact: { blob, view, about: phone.hole }, source: 'tapped' });
  };
  return (
    <Page title={t('photos.title')}>
      <p class="note">{t('photos.clear')}</p>
      <div class="choices photos">
        {views.map((view) => {
          const says = t(`photo.${view}` as Word);
          return (
            <label class="file" key={view}>
              <span>{says}</span>
              {photos.has(view) ? <Picture hash={photos.get(view)!} says={says} /> : <strong>{t('photos.none')}</strong>}
              <input type="file" accept="image/*" capture="environment" onChange={(event) => take(view, event.currentTarget.files?.[0])} />
            </label>
          );
        })}
      </div>
      <p class="note">{t('photos.count', { done: photos.size, all: views.length })}</p>
    </Page>
  );
}
