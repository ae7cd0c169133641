// A plan that comes as a file: its job begins with the events that the engine makes of it. The files stay on the phone,
// by the job, for the questions that need them again. With the pipe found, the same place of work is planned again.
import type { Engines } from '../../worker/quick';
import type { JobPlanReply, PlanReply } from '../../shared/documents';
import type { Draft, Fact } from '../../shared/event';
import type { Store } from '../../shared/store';
import type { Request } from '../../worker/quick';
import type { JobView } from './job';
import type { Company, Files } from './phone';

interface Kept {
  text: string;
  name: string;
}

const planKey = (job: string) => `plan ${job}`;
export const networkKey = (job: string) => `network ${job}`;
export const noFiles: Files = { plan: '', network: '' };

async function drafts(engine: Engines, text: string, name: string): Promise<Draft[]> {
  const plan = await engine.load('plan', text, name);
  const { document } = await engine.ask<JobPlanReply>({ question: 'job-plan', plan, title: name.replace(/\.json$/, '') });
  return document.drafts.map((draft) => ({ ...draft, source: 'imported' }) as Draft);
}

/** Begins a job on the first plan of the document. Answers the job's id. Throws BadInput. */
export async function broughtIn(store: Store, engine: Engines, text: string, name: string): Promise<string> {
  const [opened, ...rest] = await drafts(engine, text, name);
  const job = await store.begin(opened!);
  await store.keep(planKey(job), { text, name });
  for (const draft of rest) await store.append(job, draft);
  return job;
}

/** Puts another plan on the table of a job. It counts when somebody takes it on. */
export async function onTheTable(store: Store, engine: Engines, job: string, text: string, name: string): Promise<void> {
  const planned = (await drafts(engine, text, name)).filter(({ kind }) => kind === 'planned');
  await store.keep(planKey(job), { text, name });
  for (const draft of planned) await store.append(job, draft);
}

export async function planOf(store: Store, job: string): Promise<PlanReply | undefined> {
  const kept = await store.kept<Kept>(planKey(job));
  return kept && (JSON.parse(kept.text) as PlanReply);
}

const ofThePipe = ['size', 'dr', 'material', 'wall', 'year', 'inserted', 'cased', 'layered', 'lined'];

/** What was found at the plan's squeezes, as the engine reads it: "M-12 size=IPS 4, dr=11.5". */
export function foundTexts({ plan, found }: JobView): string[] {
  const text = (pipe: Fact) => ofThePipe.filter((key) => pipe[key]).map((key) => `${key}=${String(pipe[key])}`).join(', ');
  return (plan?.shutoffs ?? []).flatMap(({ id, kind, element }) => {
    const pipe = found.get(id);
    return kind === 'squeeze' && element && pipe ? [`${element} ${text(pipe)}`] : [];
  });
}

/** The plan's place of work, asked for again with what was found. A work of several mains is planned at a desk. */
export function againRequest(plan: PlanReply, view: JobView, files: Files, company: Company, date: string): Request | undefined {
  const { work, conditions, kind, units } = plan;
  const [piece, ...others] = work.pieces;
  const place = work.node ? { node: work.node } : piece && others.length === 0 ? { pipe: `${piece.pipe}@${piece.from_station_m}m:${piece.to_station_m}m` } : undefined;
  const found = foundTexts(view);
  if (!place || found.length === 0 || !files.network) return undefined;
  return {
    question: 'plan', network: files.network, units, kind, ...place, found, date, procedure: company.procedure, plans: 1,
    temperature_k: conditions.temperature_k, hour: conditions.hour, crews: conditions.crews,
    ...(company.toolsHash ? { tools: company.toolsHash } : {}),
  };
}

/** The job's plan and network, given to the engine. */
export async function filesOf(store: Store, engine: Engines, job: string): Promise<Files> {
  const given = async (kind: 'plan' | 'network', key: string) => {
    const kept = await store.kept<Kept>(key);
    return kept ? engine.load(kind, kept.text, kept.name) : '';
  };
  return { plan: await given('plan', planKey(job)), network: await given('network', networkKey(job)) };
}
