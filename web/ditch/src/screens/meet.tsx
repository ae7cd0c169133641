// Two phones that meet: this one's log as QR codes or as a file, and the other's taken in.
import { useEffect, useState } from 'preact/hooks';
import { encode } from 'uqr';

import { parts } from '../../../shared/exchange';
import { takenIn } from '../logs';
import { FileButton } from '../parts/file';
import { Page } from '../parts/page';
import { canScan, Scanner } from '../parts/scanner';
import { usePhone } from '../phone';
import { t } from '../words';

function Code({ text, says }: { text: string; says: string }) {
  const { data, size } = encode(text, { ecc: 'L', border: 4 });
  const path = data.flatMap((row, y) => row.map((dark, x) => (dark ? `M${x} ${y}h1v1h-1z` : ''))).join('');
  return <svg class="qr" viewBox={`0 0 ${size} ${size}`} role="img" aria-label={says}><path d={path} /></svg>;
}

export function MeetScreen() {
  const phone = usePhone();
  const [codes, setCodes] = useState<string[]>([]);
  const [at, setAt] = useState(0);
  const [scanning, setScanning] = useState(false);
  const [taken, setTaken] = useState('');
  useEffect(() => void phone.store.lines(phone.job).then(parts).then(setCodes), [phone.view.events]);
  const take = async (text: string) => {
    setScanning(false);
    const { job, added } = await takenIn(phone.store, phone.engine, text);
    setTaken(job === phone.job ? t('meet.taken', { added }) : t('meet.other'));
    await phone.reread();
  };
  const shown = codes[at];
  const says = t('meet.code', { at: at + 1, all: codes.length });
  return (
    <Page title={t('meet.title')}
      next={{ label: t('meet.next'), go: () => setAt((at + 1) % codes.length), disabled: codes.length < 2 }}
      also={canScan ? { label: t(scanning ? 'app.back' : 'meet.scan'), go: () => setScanning(!scanning) } : undefined}>
      {taken && <p class="sentence" role="status">{taken}</p>}
      {scanning ? <Scanner take={(lines) => void take(lines)} /> : shown && <Code text={shown} says={says} />}
      {!scanning && <p class="note">{says}</p>}
      {!canScan && <p class="note">{t('meet.no_camera')}</p>}
      <FileButton label={t('meet.file')} take={take} />
    </Page>
  );
}
