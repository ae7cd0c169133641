// What comes next, with a plan and without one: read from the log alone.
import { readFileSync } from 'node:fs';

import { expect, test } from 'vitest';

import type { Fact, JobEvent } from '../../shared/event';
import { nextStep, phonePrompt, read, screenOf } from '../../ditch/src/job';
import { screens } from '../../ditch/src/screens';

const { reply } = JSON.parse(readFileSync('../tests/contract/job-plan/emergency.json', 'utf8')) as {
  reply: { drafts: { kind: string; fact: Fact }[] };
};

type Said = [string, Fact];
const clear: Said = ['prompt', { says: phonePrompt, answer: 'yes' }];
const happened = (said: Said[]): JobEvent[] =>
  said.map(([kind, fact], i) => ({ kind, fact, sequence: i + 1, happened_at: `2026-11-25T10:00:${10 + i}Z`, device: 'phone-1' }) as JobEvent);
const next = (...said: Said[]) => nextStep(read(happened(said)));

test('without a plan: from the pipe to the mark', () => {
  const opened: Said = ['opened', { title: 'x', work: 'emergency' }];
  const pipe: Said = ['pipe_found', { about: 'A', pipe: { size: 'IPS 4' } }];
  const did = (what: string, about = 'A'): Said => ['act', { did: what, about }];
  const reading: Said = ['reading', { point: 'A-part', typed: '0psi' }];
  const way: [Said, string][] = [
    [opened, 'zone'], [clear, 'pipe'], [pipe, 'verdict'], [['bars', { about: 'A', gap_m: 0.11 }], 'close'], [did('shut'), 'watch'],
    [reading, 'cut'], [did('cut', 'main'), 'test'], [['tested', { section: 'A' }], 'purge'], [['purged', { section: 'A' }], 'open'],
    [did('opened'), 'after'], [['laid', { what: 'squeeze', marked: 'yes' }], 'handover'],
  ];
  way.forEach(([, wanted], i) => expect(next(...way.slice(0, i + 1).map(([said]) => said))).toBe(wanted));
});

test('with a plan: taken on first, then its steps in order, whatever was done besides', () => {
  const drafts = reply.drafts.map(({ kind, fact }): Said => [kind, fact]);
  const plan = drafts[1]![1] as { result: string; steps: { id: string; kind: string }[] };
  expect(next(...drafts, clear)).toBe('plan');
  expect(next(...drafts, clear, ['plan_accepted', { result: 'another' }])).toBe('plan');
  const accepted: Said[] = [...drafts, clear, ['plan_accepted', { result: plan.result }]];
  expect(next(...accepted)).toBe('steps');
  const all = plan.steps.map(({ id }): Said => ['step', { step: id, answer: 'yes' }]);
  expect(next(...accepted, ...all)).toBe('handover');
  expect(next(...accepted, ...all, ['step', { step: plan.steps[3]!.id, answer: 'no' }])).toBe('steps');
  for (const { kind } of plan.steps) expect(screenOf[kind] === undefined || screens[screenOf[kind]]).toBeTruthy();
});
