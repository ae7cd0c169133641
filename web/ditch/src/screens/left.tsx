// How long until the first customer falls short: the engine's answer for the plan and the town, run down by the clock from
// the first shut-off that was shut.
import type { TimeLeftReply } from '../../../shared/documents';
import { plain } from '../../../shared/plain';
import { clock } from '../../../shared/units';
import { leftFields } from '../fields';
import { useAsk, Waiting } from '../parts/ask';
import { Figure } from '../parts/figure';
import { useSection } from '../parts/form';
import { GradeLine } from '../parts/grade';
import { Page } from '../parts/page';
import { TownLacks, useTown } from '../parts/town';
import { foundTexts } from '../plans';
import { usePhone } from '../phone';
import { t } from '../words';

const most = 5;

function Answer({ reply }: { reply: TimeLeftReply }) {
  const { view, now } = usePhone();
  const since = view.shut_ms === undefined ? 0 : (now - view.shut_ms) / 1000;
  return (
    <>
      <GradeLine grade={reply.verdict} />
      {reply.time_left_s !== null && (
        <Figure label={t(view.shut_ms === undefined ? 'left.from' : 'left.now')} shown={{ figure: clock(reply.time_left_s - since, 'down'), unit: '' }} />
      )}
      <p class="sentence">{reply.says}</p>
      <ul class="plain">
        {reply.customers.slice(0, most).map(({ id, street, must_not_lose, at_once, time_left_s }) => (
          <li key={id}>
            <b>{[id, street].filter(Boolean).join(', ')}</b>{' '}
            {at_once ? t('left.at_once') : time_left_s === null ? t('app.unknown') : clock(time_left_s - since, 'down')}
            {must_not_lose ? ` ${t('left.must')}` : ''}
          </li>
        ))}
      </ul>
      {reply.findings.filter((one) => one.grade !== 'info').map((one) => <p class="note" key={one.says}>{one.says} → {plain(one.action)}</p>)}
    </>
  );
}

export function LeftScreen() {
  const phone = usePhone();
  const { engine, view } = phone;
  const { values, entry, rows } = useSection('left');
  const { temperature, hour } = values;
  const town = useTown();
  const found = foundTexts(view);
  const { reply, ...waiting } = useAsk<TimeLeftReply>(town && {
    question: 'time-left', ...town, ...(found.length > 0 ? { found } : {}),
    ...(temperature ? { temperature } : {}), ...(hour ? { hour: Number(hour) } : {}),
  });
  if (entry) return entry;
  return (
    <Page title={t('left.title')} also={waiting.busy ? { label: t('app.cancel'), go: () => engine.cancel() } : undefined}>
      <TownLacks />
      <Waiting {...waiting} />
      {reply && <Answer reply={reply} />}
      {rows(leftFields)}
    </Page>
  );
}
