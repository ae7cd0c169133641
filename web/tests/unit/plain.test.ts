// The engine's sentences without the terminal's flags: those of the contract corpus, all of them.
import { expect, test } from 'vitest';

import { plain } from '../../shared/plain';
import { corpus } from '../corpus';

test('what is to be done stays, the flag goes', () => {
  expect(plain("measure the pipe's surface: --pipe-temperature; decide: the engineer")).toBe("measure the pipe's surface; decide: the engineer");
  expect(plain('give the stops (--tool or --stops): a stop is chosen')).toBe('give the stops: a stop is chosen');
  expect(plain('--stack-bore 1in; decide')).toBe('decide');
  expect(plain('wait; pump up again - slowly')).toBe('wait; pump up again - slowly');
});

test('no action of the corpus shows a flag on a phone, and none is lost whole', () => {
  const actions = new Set<string>();
  const walk = (value: unknown): void => {
    if (typeof value !== 'object' || value === null) return;
    const { action } = value as { action?: unknown };
    if (typeof action === 'string' && action) actions.add(action);
    Object.values(value).forEach(walk);
  };
  for (const { reply } of corpus()) walk(reply);
  expect(actions.size).toBeGreaterThan(50);
  for (const action of actions) {
    expect(plain(action)).not.toContain('--');
    expect(plain(action), action).not.toBe('');
  }
});
