// The same work planned again with the pipe found: before beside after, and who takes it on. Nothing is changed before that.
import { useEffect, useState } from 'preact/hooks';

import type { PlanReply } from '../../../shared/documents';
import { resultFact, rfc3339 } from '../../../shared/event';
import { useAsk, Waiting } from '../parts/ask';
import { Compare, type Line } from '../parts/compare';
import { GradeLine } from '../parts/grade';
import { Page } from '../parts/page';
import { TownLacks } from '../parts/town';
import { againRequest, foundTexts, onTheTable, planOf } from '../plans';
import { usePhone } from '../phone';
import { t, type Word } from '../words';

const shown = 3;

/** What a crew does otherwise by another plan. */
function column({ plans, verdict }: PlanReply): Record<string, string> {
  const [plan] = plans;
  const stopOf = (squeeze: unknown) => (squeeze as { stop?: { id: string } | null }).stop?.id ?? t('app.none');
  const stops = plan?.shutoffs.flatMap(({ id, squeeze }) => (squeeze ? [`${id}: ${stopOf(squeeze)}`] : []));
  return {
    shutoffs: plan?.shutoffs.map(({ says }) => says).join('; ') ?? t('app.none'),
    stops: stops?.join(', ') || t('app.none'),
    steps: String(plan?.steps.length ?? 0),
    out: String(plan?.customers_out.length ?? 0),
    verdict: t(`grade.${verdict}` as Word),
  };
}

function lines(before: PlanReply, after: PlanReply): Line[] {
  const [old, now] = [column(before), column(after)];
  return Object.keys(now).map((what) => ({ what: t(`again.${what}` as Word), before: old[what]!, after: now[what]! }));
}

export function AgainScreen() {
  const phone = usePhone();
  const { store, engine, job, view, files, company } = phone;
  const [before, setBefore] = useState<PlanReply | undefined>();
  useEffect(() => void planOf(store, job).then(setBefore), [files.plan]);
  const [date] = useState(() => rfc3339(new Date()).slice(0, 10));
  const request = before && againRequest(before, view, files, company, date);
  const { reply, ...waiting } = useAsk<PlanReply>(request);
  const take = async () => {
    await phone.record({ kind: 'result', fact: await resultFact(request, reply!), source: 'tapped' });
    await onTheTable(store, engine, job, JSON.stringify(reply), view.title);
    await phone.reloadFiles();
    phone.show('plan');
  };
  const came = reply?.assumed.filter((says) => !before?.assumed.includes(says)) ?? [];
  const none = foundTexts(view).length === 0;
  return (
    <Page title={t('again.title')}
      next={reply && reply.plans.length > 0 ? { label: t('again.take'), go: take } : undefined}
      also={waiting.busy ? { label: t('app.cancel'), go: () => engine.cancel() } : undefined}>
      <TownLacks />
      {none && <p class="note">{t('again.nothing')}</p>}
      {!none && before && files.network && !request && <p class="note">{t('again.desk')}</p>}
      <Waiting {...waiting} />
      {reply && before && (
        <>
          <GradeLine grade={reply.verdict} />
          {reply.plans.length === 0 && <p class="sentence">{t('again.no_plan')}</p>}
          <Compare lines={lines(before, reply)} source={t('again.before')} reasons={came.slice(0, shown)} />
          <p class="note">{t('again.keeps')}</p>
        </>
      )}
    </Page>
  );
}
