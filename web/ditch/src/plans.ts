// A plan that comes as a file: its job begins with the events that the engine makes of it. The files stay on the phone,
// by the job, for the questions that need them again.
import type { Engines } from '../../worker/quick';
import type { JobPlanReply } from '../../shared/documents';
import type { Draft } from '../../shared/event';
import type { Store } from '../../shared/store';
import type { Files } from './phone';

interface Kept {
  text: string;
  name: string;
}

const planKey = (job: string) => `plan ${job}`;
export const networkKey = (job: string) => `network ${job}`;
export const noFiles: Files = { plan: '', network: '' };

/** Begins a job on the first plan of the document. Answers the job's id. Throws BadInput. */
export async function broughtIn(store: Store, engine: Engines, text: string, name: string): Promise<string> {
  const plan = await engine.load('plan', text, name);
  const { document } = await engine.ask<JobPlanReply>({ question: 'job-plan', plan, title: name.replace(/\.json$/, '') });
  const [opened, ...rest] = document.drafts.map((draft) => ({ ...draft, source: 'imported' }) as Draft);
  const job = await store.begin(opened!);
  await store.keep(planKey(job), { text, name });
  for (const draft of rest) await store.append(job, draft);
  return job;
}

/** The job's plan and network, given to the engine. */
export async function filesOf(store: Store, engine: Engines, job: string): Promise<Files> {
  const given = async (kind: 'plan' | 'network', key: string) => {
    const kept = await store.kept<Kept>(key);
    return kept ? engine.load(kind, kept.text, kept.name) : '';
  };
  return { plan: await given('plan', planKey(job)), network: await given('network', networkKey(job)) };
}
