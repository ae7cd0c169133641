// Asking the engine from a screen: the answer, the trouble, or that it is still reckoning.
import { useEffect, useState } from 'preact/hooks';

import { plain } from '../../../shared/plain';
import { BadInput, Cancelled } from '../../../worker/client';
import type { Request } from '../../../worker/quick';
import { usePhone } from '../phone';
import { t } from '../words';

export interface Asked<Document> {
  reply: Document | undefined;
  trouble: string;
  busy: boolean;
}

/** What is still missing, or what was not understood, and how to mend it. */
export function troubleText({ message, trouble }: BadInput): string {
  return trouble.code === 'missing_value' ? t('app.missing', { fix: plain(trouble.fix) }) : `${t('app.bad')}: ${message}`;
}

/** Asks whenever the request changes; `undefined` asks nothing. */
export function useAsk<Document>(request: Request | undefined): Asked<Document> {
  const { engine } = usePhone();
  const [asked, setAsked] = useState<Asked<Document>>({ reply: undefined, trouble: '', busy: request !== undefined });
  useEffect(() => {
    let current = true;
    if (!request) return setAsked({ reply: undefined, trouble: '', busy: false });
    setAsked((had) => ({ ...had, busy: true }));
    engine.ask<Document>(request).then(
      ({ document }) => current && setAsked({ reply: document, trouble: '', busy: false }),
      (error: unknown) => {
        if (!current) return;
        setAsked({ reply: undefined, trouble: error instanceof BadInput ? troubleText(error) : '', busy: false });
        if (!(error instanceof BadInput || error instanceof Cancelled)) throw error;
      });
    return () => { current = false; };
  }, [JSON.stringify(request)]);
  return asked;
}

/** A question about this job's log, asked again with every event. */
export function useJob<Document>(question: string, more: Record<string, unknown> = {}): Asked<Document> {
  const phone = usePhone();
  const [log, setLog] = useState('');
  useEffect(() => void phone.store.lines(phone.job).then(setLog), [phone.view.events]);
  return useAsk<Document>(log ? { question, log, units: phone.units, ...more } : undefined);
}

export function Waiting({ trouble, busy }: { trouble: string; busy: boolean }) {
  if (trouble) return <p class="note" role="alert">{trouble}</p>;
  return busy ? <p class="note" role="status">{t('app.wait')}</p> : null;
}
