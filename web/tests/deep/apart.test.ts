// Two phones on one job: apart they speak by radio, together they exchange their logs.
import { readFileSync } from 'node:fs';

import { expect, test } from 'vitest';
import type { Page } from 'playwright-core';

import { Engine } from '../../../apps/browser/engine.mjs';
import { engineFile } from '../places';
import { open } from '../browser/look';
import { hosted, picture, tap } from '../browser/phone';
import { goTo, type } from '../browser/plan';

const at = hosted();

/** The log as the file that the phone saves. */
async function saved(page: Page): Promise<string> {
  await goTo(page, 'The log');
  const [download] = await Promise.all([page.waitForEvent('download'), tap(page, 'Save the log as a file')]);
  return download.path();
}

test('apart by radio, together by file', async () => {
  const [a, b] = [await open(at.chromium), await open(at.chromium)];
  await a.page.goto(at.host.url);
  await tap(a.page, /^Gas is blowing/);
  await tap(a.page, /^Clear of the gas/);
  await a.page.getByRole('button', { name: 'Read the pipe' }).waitFor();
  const begun = await saved(a.page);

  await b.page.goto(at.host.url);
  await b.page.locator('input[type=file]').setInputFiles({ name: 'job.jsonl', mimeType: 'application/json', buffer: readFileSync(begun) });
  await b.page.getByRole('button', { name: 'Read the pipe' }).waitFor();
  await goTo(b.page, 'Other hole, by radio');
  await tap(b.page, 'Hole B');
  await tap(b.page, 'The job');
  await tap(b.page, 'Read the pipe');
  await type(b.page, /^Size/, 'IPS 4');
  await tap(b.page, 'This is the pipe');
  await tap(b.page, 'Close it');
  await tap(b.page, 'Both stops bear');
  await goTo(b.page, 'Other hole, by radio');
  const code = (await b.page.locator('.code li').allTextContents()).map((group) => group.slice(0, 4)).join(' ');
  expect(code).toMatch(/^(\w{4} ){2}\w{4}$/);

  await goTo(a.page, 'Other hole, by radio');
  await tap(a.page, 'A code was heard: type it');
  await a.page.locator('.words input').fill(code.toLowerCase().replace(/.$/, (one) => (one === '2' ? '3' : '2')));
  await tap(a.page, 'Take it');
  await a.page.getByRole('alert').waitFor();
  await tap(a.page, 'Back');
  await tap(a.page, 'A code was heard: type it');
  await a.page.locator('.words input').fill(code);
  await tap(a.page, 'Take it');
  await a.page.getByText(/^B shut/).waitFor();
  await picture(a.page, 'phone-radio-heard');
  await tap(a.page, 'Take it into the log');

  const other = await saved(b.page);
  await goTo(a.page, 'Other phone, here');
  await a.page.locator('input[type=file]').setInputFiles({ name: 'b.jsonl', mimeType: 'application/json', buffer: readFileSync(other) });
  await a.page.getByText(/^New entries: /).waitFor();
  const log = readFileSync(await saved(a.page), 'utf8');
  const engine = await Engine.start(readFileSync(engineFile));
  const { document } = engine.ask({ question: 'job-state', log });
  expect(document.shutoffs.find(({ id }: { id: string }) => id === 'B').shut).toBe(true);
  expect(document.conflicts).toEqual([]);
  expect(document.heads).toHaveLength(2);

  const spoilt = readFileSync(other, 'utf8').replace('"did":"shut"', '"did":"undone"');
  await goTo(a.page, 'Other phone, here');
  await a.page.locator('input[type=file]').setInputFiles({ name: 'c.jsonl', mimeType: 'application/json', buffer: Buffer.from(spoilt) });
  await a.page.getByRole('alert').waitFor();
  await a.context.close();
  await b.context.close();
});
