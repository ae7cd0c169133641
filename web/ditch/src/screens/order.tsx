// In which order customers come back, how long that takes, and what gas may not go back for yet: the engine's list for the
// plan and the town, with what was done at each meter.
import type { ComponentChildren } from 'preact';

import type { RelightReply } from '../../../shared/documents';
import { clock } from '../../../shared/units';
import { orderFields } from '../fields';
import { useAsk, Waiting } from '../parts/ask';
import { Figure } from '../parts/figure';
import { useSection } from '../parts/form';
import { Decides, Findings, worstFirst } from '../parts/findings';
import { GradeLine } from '../parts/grade';
import { Page } from '../parts/page';
import { TownLacks, useTown } from '../parts/town';
import { usePhone } from '../phone';
import { t } from '../words';

const how: Record<string, string> = { off: 'meter', on: 'relit', not_home: 'not yet' };

/** What was done at each meter, as the engine reads it. */
function shutTable(meters: Map<string, string>): string {
  return ['meter,how', ...[...meters].map(([id, did]) => `${id},${how[did]}`)].join('\n');
}

function Answer({ reply, rows }: { reply: RelightReply; rows: ComponentChildren }) {
  return (
    <>
      <GradeLine grade={reply.verdict} />
      <Decides who={reply.decides} />
      {reply.all && <Figure label={t('order.all')} shown={{ figure: clock(reply.all.longest_s, 'up'), unit: '' }} />}
      {rows}
      <ol class="plain large">
        {reply.visits.map(({ id, street, must_not_lose, done, round, position }) => (
          <li key={`${round} ${position} ${id}`}>
            <b>{id}</b> {street} {done ? t('order.by', { time: clock(done.longest_s, 'up') }) : ''} {must_not_lose ? t('left.must') : ''}
          </li>
        ))}
      </ol>
      <ul class="plain">{reply.cautions.map((one) => <li key={one}>{one}</li>)}</ul>
      <Findings findings={worstFirst(reply.findings)} />
    </>
  );
}

export function OrderScreen() {
  const { view, engine, show } = usePhone();
  const { values, entry, rows } = useSection('order');
  const { technicians, rate } = values;
  const town = useTown();
  const { reply, ...waiting } = useAsk<RelightReply>(town && {
    question: 'relight', ...town, ...(view.meters.size > 0 ? { shut: shutTable(view.meters) } : {}),
    ...(technicians ? { technicians: Number(technicians) } : {}), ...(rate ? { rate } : {}),
  });
  if (entry) return entry;
  return (
    <Page title={t('order.title')} next={{ label: t('rest.back'), go: () => show('back') }}
      also={waiting.busy ? { label: t('app.cancel'), go: () => engine.cancel() } : undefined}>
      <TownLacks />
      <Waiting {...waiting} />
      {reply && <Answer reply={reply} rows={rows(orderFields)} />}
    </Page>
  );
}
