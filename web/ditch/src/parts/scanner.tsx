// The camera as a reader of QR codes, where the phone's browser has one.
import { useEffect, useRef, useState } from 'preact/hooks';

import { Collector } from '../../../shared/exchange';
import { t } from '../words';

interface Detector {
  detect(from: HTMLVideoElement): Promise<{ rawValue: string }[]>;
}
const detector = (globalThis as { BarcodeDetector?: new (options: { formats: string[] }) => Detector }).BarcodeDetector;

export const canScan = detector !== undefined;

export function Scanner({ take }: { take: (lines: string) => void }) {
  const video = useRef<HTMLVideoElement>(null);
  const [had, setHad] = useState('');
  useEffect(() => {
    let on = true;
    let stream: MediaStream | undefined;
    const collector = new Collector();
    const look = async () => {
      stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment' } });
      const reader = new detector!({ formats: ['qr_code'] });
      video.current!.srcObject = stream;
      await video.current!.play();
      while (on) {
        for (const { rawValue } of await reader.detect(video.current!)) collector.add(rawValue);
        if (collector.all > 0) setHad(t('meet.had', { had: collector.had, all: collector.all }));
        const lines = await collector.lines();
        if (lines) return take(lines);
        await new Promise(requestAnimationFrame);
      }
    };
    void look();
    return () => { on = false; stream?.getTracks().forEach((track) => track.stop()); };
  }, []);
  return (
    <figure class="scanner">
      <video ref={video} muted playsInline aria-label={t('meet.camera')} />
      <figcaption><output>{had || t('meet.camera')}</output></figcaption>
    </figure>
  );
}
