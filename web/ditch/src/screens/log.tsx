// The log as it stands, its chain checked by the engine, and saved as the file that `bellhole job` reads.
import { useEffect, useState } from 'preact/hooks';

import type { JobVerifyReply } from '../../../shared/documents';
import type { JobEvent } from '../../../shared/event';
import { Findings, worstFirst } from '../parts/findings';
import { GradeLine, type Grade } from '../parts/grade';
import { Page } from '../parts/page';
import { usePhone } from '../phone';
import { t } from '../words';

function shortly(event: JobEvent): string {
  const { about, answer, did, gap_m, says, title, typed, point } = event.fact as Record<string, string | number | undefined>;
  return [title, about, did, typed, point, gap_m, says, answer].filter((part) => part !== undefined).join(' · ');
}

export function LogScreen() {
  const phone = usePhone();
  const [events, setEvents] = useState<JobEvent[]>([]);
  const [checked, setChecked] = useState<JobVerifyReply | undefined>();
  useEffect(() => void phone.store.events(phone.job).then(setEvents), [phone.view.events]);
  const check = async () => {
    const log = await phone.store.lines(phone.job);
    setChecked((await phone.engine.ask<JobVerifyReply>({ question: 'job-verify', log })).document);
  };
  const save = async () => {
    const url = URL.createObjectURL(new Blob([await phone.store.lines(phone.job)], { type: 'application/jsonl' }));
    const link = document.createElement('a');
    link.href = url;
    link.download = `${phone.job}.jsonl`;
    link.click();
    setTimeout(() => URL.revokeObjectURL(url), 60000);
  };
  return (
    <Page title={t('log.title')} next={{ label: t('log.export'), go: save }} also={{ label: t('log.check'), go: check }}>
      <p class="note">{t('log.count', { count: events.length })}</p>
      {checked && <GradeLine grade={checked.verdict as Grade} />}
      {checked && <Findings findings={worstFirst(checked.findings)} />}
      <ol class="entries">
        {events.map((event) => (
          <li key={event.sequence}>
            <b>{event.happened_at.slice(11, 19)}</b> {event.kind} <span>{shortly(event)}</span>
          </li>
        ))}
      </ol>
    </Page>
  );
}
