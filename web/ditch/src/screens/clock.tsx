// The plan's steps by the clock: when each begins and ends at the longest, who does it, what it waits for.
import type { ComponentChildren } from 'preact';

import type { TimelineReply } from '../../../shared/documents';
import { clock } from '../../../shared/units';
import { clockFields } from '../fields';
import { useAsk, Waiting } from '../parts/ask';
import { Figure } from '../parts/figure';
import { useSection } from '../parts/form';
import { Page } from '../parts/page';
import { TownLacks, useTown } from '../parts/town';
import { usePhone } from '../phone';
import { behind } from '../job';
import { t } from '../words';

function Answer({ reply, rows }: { reply: TimelineReply; rows: ComponentChildren }) {
  const { view } = usePhone();
  const done = new Set(view.plan?.steps.filter((step) => behind(view, step)).map(({ id }) => id));
  return (
    <>
      {reply.lasts && <Figure label={t('clock.lasts')} shown={{ figure: clock(reply.lasts.longest_s, 'up'), unit: '' }} />}
      <p class="sentence">{reply.says}</p>
      {rows}
      <p class="note">{t('clock.note')}</p>
      <ol class="findings">
        {reply.steps.filter(({ id }) => !done.has(id)).map(({ id, does, begins, ends, role, known, hold_point, point_of_no_return }) => (
          <li key={id}>
            <p><b>{known && begins && ends ? t('clock.from', { from: clock(begins.expected_s, 'down'), to: clock(ends.longest_s, 'up') }) : t('app.unknown')}</b> {role}</p>
            <p>{does}</p>
            {hold_point && <p><b>{t('clock.hold')}</b></p>}
            {point_of_no_return && <p><b>{t('clock.no_return')}</b></p>}
          </li>
        ))}
      </ol>
    </>
  );
}

export function ClockScreen() {
  const { engine, show } = usePhone();
  const { values, entry, rows } = useSection('clock');
  const { crews, technicians } = values;
  const town = useTown();
  const { reply, ...waiting } = useAsk<TimelineReply>(town && {
    question: 'timeline', ...town,
    ...(crews ? { crews: Number(crews) } : {}), ...(technicians ? { technicians: Number(technicians) } : {}),
  });
  if (entry) return entry;
  return (
    <Page title={t('clock.title')} next={{ label: t('rest.steps'), go: () => show('steps') }}
      also={waiting.busy ? { label: t('app.cancel'), go: () => engine.cancel() } : undefined}>
      <TownLacks />
      <Waiting {...waiting} />
      {reply && <Answer reply={reply} rows={rows(clockFields)} />}
    </Page>
  );
}
