// A job on a plan, as the tests bring it in: the small ring town of the contract corpus.
import { join } from 'node:path';

import type { Page } from 'playwright-core';

import { top } from '../places';
import { tap } from './phone';

export const planFile = join(top, 'tests/contract/rehearse/emergency.plan.json');
export const townFile = join(top, 'tests/contract/plan/ring.network.json');

/** Types a value on the pad or the keyboard of the row that is named. */
export async function type(page: Page, row: RegExp, value: string): Promise<void> {
  await tap(page, row);
  await page.locator('.entry').waitFor();
  const input = page.locator('.words input');
  const other = page.getByRole('button', { name: 'Another: type it' });
  if (await other.count()) await other.click();
  await page.locator('.words input, .keys').waitFor();
  if (await input.count()) await input.fill(value);
  else for (const key of value) await page.getByRole('button', { name: key, exact: true }).click();
  await tap(page, 'Take it');
}

/** Brings the plan in, up to its first step. */
export async function onPlan(page: Page, url: string): Promise<void> {
  await page.goto(url);
  await page.locator('input[type=file]').setInputFiles(planFile);
  await tap(page, /^Clear of the gas/);
  await tap(page, 'Take the plan on');
  await type(page, /^Your number/, 'P-7');
  await tap(page, 'I take this plan on');
  await page.getByRole('button', { name: 'Next step of the plan' }).waitFor();
}

export async function goTo(page: Page, name: string): Promise<void> {
  await tap(page, 'The rest');
  await page.getByRole('button', { name, exact: true }).click();
}
