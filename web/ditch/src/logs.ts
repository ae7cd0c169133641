// Logs of other phones: held against their own chain by the engine before a line of them is kept.
import type { JobVerifyReply } from '../../shared/documents';
import type { JobEvent } from '../../shared/event';
import type { Store } from '../../shared/store';
import type { Engines } from '../../worker/quick';

export const isLog = (text: string): boolean => text.startsWith('{"document":"bellhole.event"');

/** Takes a log in. Answers its job and how many lines were new; throws with what is wrong with it. */
export async function takenIn(store: Store, engine: Engines, text: string): Promise<{ job: string; added: number }> {
  const { document } = await engine.ask<JobVerifyReply>({ question: 'job-verify', log: text });
  const fault = document.findings.find(({ grade }) => grade === 'halt');
  if (fault) throw new Error(`${fault.says}. ${fault.action}`);
  const lines = text.split('\n').filter(Boolean);
  const { job } = JSON.parse(lines[0]!) as JobEvent;
  return { job, added: await store.take(job, lines) };
}
