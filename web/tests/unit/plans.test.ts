// A job's plan asked for again with the pipe found, and what the engine makes of it.
import { readFileSync } from 'node:fs';

import { expect, test } from 'vitest';

import type { PlanReply } from '../../shared/documents';
import type { JobEvent } from '../../shared/event';
import { read } from '../../ditch/src/job';
import { againRequest, foundTexts } from '../../ditch/src/plans';
import { Engine } from '../../../apps/browser/engine.mjs';
import { engineFile } from '../places';

const text = (file: string) => readFileSync(`../${file}`, 'utf8');
const planText = text('tests/contract/rehearse/ring.plan.json');
const plan = JSON.parse(planText) as PlanReply;
const engine = await Engine.start(readFileSync(engineFile));
const load = (kind: string, bytes: string) => engine.load(kind, new TextEncoder().encode(bytes), kind) as string;
interface Planned {
  kind: string;
  fact: { shutoffs?: { id: string; kind: string; element?: string }[] };
}
const { drafts } = engine.ask({ question: 'job-plan', plan: load('plan', planText), title: 'ring' }).document as { drafts: Planned[] };
const company = { procedure: 'us', profileTitle: '', toolsHash: '', toolsTitle: '', tools: [] };
const files = { plan: 'p', network: 'n' };

function job(...pipes: [string, Record<string, unknown>][]) {
  const said = [...drafts, ...pipes.map(([about, pipe]) => ({ kind: 'pipe_found', fact: { about, pipe } }))];
  return read(said.map(({ kind, fact }, i) => ({ kind, fact, happened_at: `2026-11-25T10:00:${10 + i}Z`, device: 'phone-1' }) as unknown as JobEvent));
}

const squeeze = drafts[1]!.fact.shutoffs!.find(({ kind }) => kind === 'squeeze')!;
const found = { size: 'IPS 4', dr: 13.5, material: 'PE2708', pressure: '25psig', lined: 'no' };

test('what was found at a squeeze of the plan, and only what tells of the pipe', () => {
  expect(foundTexts(job())).toEqual([]);
  expect(foundTexts(job(['Z', found]))).toEqual([]);
  expect(foundTexts(job([squeeze.id, found]))).toEqual([`${squeeze.element} size=IPS 4, dr=13.5, material=PE2708, lined=no`]);
});

test('nothing is asked without a town, without a pipe, or where the work lies on several mains', () => {
  const view = job([squeeze.id, found]);
  expect(againRequest(plan, job(), files, company, '2026-11-25')).toBeUndefined();
  expect(againRequest(plan, view, { ...files, network: '' }, company, '2026-11-25')).toBeUndefined();
  const [piece] = plan.work.pieces;
  expect(againRequest({ ...plan, work: { ...plan.work, pieces: [piece!, piece!] } }, view, files, company, '2026-11-25')).toBeUndefined();
});

test('the engine plans the same work with it, and says so', () => {
  const network = load('network', text('tests/contract/plan/ring.network.json'));
  const request = againRequest(plan, job([squeeze.id, found]), { ...files, network }, company, '2026-11-25')!;
  const { outcome, document } = engine.ask(request);
  expect(outcome).toBeLessThan(2);
  const again = document as PlanReply;
  expect(again.work.pieces).toEqual(plan.work.pieces);
  expect(again.conditions.hour).toBe(plan.conditions.hour);
  expect(again.assumed.some((says) => says.includes(`main ${squeeze.element} is taken as found, IPS 4 DR 13.5 PE2708`))).toBe(true);
  expect(again.plan_id).not.toBe(plan.plan_id);
});
