// What was asked once is not asked again, and a failure is not remembered.
import { expect, test } from 'vitest';

import type { EngineClient } from '../../worker/client';
import { Engines } from '../../worker/quick';

function engines() {
  const asked: string[] = [];
  const client = (name: string) => ({
    ask: async (request: { question: string; bad?: boolean }) => {
      asked.push(`${name} ${JSON.stringify(request)}`);
      if (request.bad) throw new Error('bad');
      return { outcome: 0, document: { of: request } };
    },
  }) as unknown as EngineClient;
  return { asked, engine: new Engines(client('quick'), client('long')) };
}

test('an answer is the same for the same request, at once, and from the engine that has the question', async () => {
  const { asked, engine } = engines();
  const request = { question: 'squeeze', size: 'IPS 4' };
  expect(engine.known(request)).toBeUndefined();
  const [one, two] = await Promise.all([engine.ask(request), engine.ask({ ...request })]);
  expect(two).toBe(one);
  expect(engine.known(request)).toEqual({ of: request });
  await engine.ask({ question: 'plan' });
  expect(asked).toEqual(['quick {"question":"squeeze","size":"IPS 4"}', 'long {"question":"plan"}']);
});

test('what failed is asked again; what was asked long ago too', async () => {
  const { asked, engine } = engines();
  for (let i = 0; i < 2; i += 1) await expect(engine.ask({ question: 'pace', bad: true })).rejects.toThrow('bad');
  expect(asked).toHaveLength(2);
  for (let i = 0; i < 20; i += 1) await engine.ask({ question: 'pace', i });
  await engine.ask({ question: 'pace', i: 0 });
  await engine.ask({ question: 'pace', i: 19 });
  expect(asked).toHaveLength(23);
});
