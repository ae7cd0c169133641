// Twelve characters to the other hole and back. The engine makes them, reads them, and checks the last one.
import { useState } from 'preact/hooks';

import type { JobRadioReply } from '../../../shared/documents';
import { plain } from '../../../shared/plain';
import type { Draft } from '../../../shared/event';
import { rfc3339 } from '../../../shared/event';
import { codeField } from '../fields';
import { useJob, Waiting } from '../parts/ask';
import { GradeLine, type Grade } from '../parts/grade';
import { Entry } from '../parts/pad';
import { Page } from '../parts/page';
import { usePhone } from '../phone';
import { t } from '../words';

/** Where no plan names the holes. */
const letters = ['A', 'B', 'C'];
/** Three groups, as they are read out. */
function Code({ code, spelled }: { code: string; spelled?: string }) {
  const groups = code.match(/.{1,4}/g) ?? [];
  const words = spelled?.split(' ') ?? [];
  return (
    <ol class="code">
      {groups.map((group, i) => <li key={i}>{group} <small>{words.slice(4 * i, 4 * i + 4).join(' ')}</small></li>)}
    </ol>
  );
}

function Heard({ code, at, leave }: { code: string; at: string; leave: () => void }) {
  const phone = usePhone();
  const { reply, ...waiting } = useJob<JobRadioReply>('job-radio', { code, heard_at: at });
  const take = async () => {
    for (const draft of reply!.drafts) await phone.record(draft as Draft);
    leave();
  };
  return (
    <Page title={t('radio.heard')} next={{ label: t('radio.take'), go: take, disabled: !reply?.drafts.length }} also={{ label: t('app.back'), go: leave }}>
      <Code code={reply?.code ?? code} />
      <Waiting {...waiting} />
      {reply && <GradeLine grade={reply.verdict as Grade} />}
      {reply && <p class="sentence">{reply.says}</p>}
      {reply?.findings.map((one) => <p class="note" key={one.says}>{one.says} → {plain(one.action)}</p>)}
    </Page>
  );
}

export function RadioScreen() {
  const phone = usePhone();
  const [typing, setTyping] = useState(false);
  const [heard, setHeard] = useState<{ code: string; at: string } | undefined>();
  const { reply, ...waiting } = useJob<JobRadioReply>('job-radio', { about: phone.hole });
  if (typing)
    return <Entry field={codeField} value="" leave={() => setTyping(false)} take={(code) => {
      setTyping(false);
      if (code) setHeard({ code, at: rfc3339(new Date()) });
    }} />;
  if (heard) return <Heard {...heard} leave={() => setHeard(undefined)} />;
  return (
    <Page title={t('radio.title')} next={{ label: t('radio.enter'), go: () => setTyping(true) }} also={{ label: t('rest.meet'), go: () => phone.show('meet') }}>
      {!phone.view.plan && (
        <div class="units" role="group" aria-label={t('radio.hole')}>
          {letters.map((hole) => (
            <button type="button" key={hole} aria-pressed={phone.hole === hole} onClick={() => phone.setForm({ ...phone.form, hole })}>{t('radio.at', { hole })}</button>
          ))}
        </div>
      )}
      <p class="note">{t('radio.say', { hole: phone.hole })}</p>
      {reply && <Code code={reply.code} spelled={reply.spelled} />}
      {reply && <p class="note">{reply.says}</p>}
      <Waiting {...waiting} />
    </Page>
  );
}
