// A job on a plan through its screens, at three sizes, by day and by night, looked at by the checker and kept as pictures in out/ditch.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

import { expect, test } from 'vitest';

import { Engine } from '../../../apps/browser/engine.mjs';
import { looksRight, open } from '../browser/look';
import { hosted, picture, tap } from '../browser/phone';
import { goTo, onPlan, townFile, type } from '../browser/plan';
import { engineFile, top } from '../places';

const at = hosted();

for (const size of ['phone', 'tablet', 'desk'] as const)
  test(`a job on a plan at ${size} size`, async () => {
    const { context, page, wrong } = await open(at.chromium, size);
    const seen = async (name: string) => { await picture(page, `${size}-${name}`); await looksRight(page, () => picture(page, `${size}-night-${name}`)); };
    await onPlan(page, at.host.url);
    await seen('plan-now');
    await goTo(page, 'The plan');
    await seen('plan');
    await goTo(page, 'Its steps');
    await seen('steps');
    for (let i = 2; i < 5; i += 1) {
      await tap(page, /^Done/);
      await page.getByRole('heading', { name: `Step ${i} of 31` }).waitFor();
    }
    await type(page, /^Second person/, 'P-9');
    await seen('steps-names');
    for (let i = 0; i < 9; i += 1) await tap(page, 'Step after');
    await seen('steps-hold');
    await goTo(page, 'Time left');
    await page.locator('input[type=file]').setInputFiles(townFile);
    await page.getByText('before the first customer').waitFor();
    await seen('left');
    await goTo(page, 'Steps by the clock');
    await page.getByText('The job lasts, at the longest').waitFor();
    await seen('clock');
    await goTo(page, 'Plan again, with this pipe');
    await page.getByText('No pipe was found yet').waitFor();
    await goTo(page, 'Pipe found');
    for (const [row, value] of [[/^Size/, 'IPS 4'], [/^DR or SDR/, '11'], [/^Material/, 'PE2708']] as const) await type(page, row, value);
    await tap(page, 'This is the pipe');
    await page.getByRole('button', { name: 'Close it' }).waitFor();
    await goTo(page, 'Fuse');
    await tap(page, /^How it is joined/);
    await tap(page, 'Butt fusion');
    await page.getByText('Cool, under pressure').waitFor();
    await seen('fuse');
    await goTo(page, 'Vent down');
    for (const [row, value] of [[/^Volume closed in/, '50'], [/^Pressure in the pipe/, '30'], [/^Bore of the stack/, '2'], [/^Length of the stack/, '14']] as const) await type(page, row, value);
    await page.getByText('Down in').waitFor();
    await seen('vent');
    await goTo(page, 'Before the cut');
    await page.getByText(/^Stands before it/).waitFor();
    await seen('gate');
    await type(page, /^Reason/, 'no time, main blowing');
    await page.getByRole('button', { name: /^Pass/ }).click();
    await page.getByText('NOTHING FOUND AGAINST IT').waitFor();
    await seen('gate-passed');
    await tap(page, 'The main is cut: record it');
    await goTo(page, 'Test');
    await seen('test');
    await goTo(page, 'Purge');
    for (const [row, value] of [[/^Bore of the main/, '3.63'], [/^Length to purge/, '650']] as const) await type(page, row, value);
    await page.getByText('One volume takes').waitFor();
    await seen('purge');
    await goTo(page, 'Customers off');
    await page.getByRole('button', { name: 'Shut' }).first().click();
    await page.getByText('Shut: 1 of 5').waitFor();
    await seen('customers');
    await goTo(page, 'Order of relighting');
    for (const [row, value] of [[/^Technicians/, '2'], [/^Visits/, '2']] as const) await type(page, row, value);
    await page.getByText('All back, at the longest').waitFor();
    await seen('order');
    await goTo(page, 'Customers back');
    await page.getByText(/^Stands before it/).waitFor();
    await goTo(page, 'Photographs');
    await page.locator('input[type=file]').first().setInputFiles(join(top, 'web/ditch/public/sign-512.png'));
    await page.getByText('1 of 4 are on this phone').waitFor();
    await seen('photos');
    await goTo(page, 'Sign');
    await tap(page, /^briefed/);
    await page.getByText(/^P-7 /).waitFor();
    await seen('sign');
    await goTo(page, 'Against static');
    await seen('static');
    for (let i = 1; i < 5; i += 1) {
      await page.getByText(`${i} of 4`).waitFor();
      await tap(page, /^Done/);
    }
    await page.getByText('Since the cloth was wetted').waitFor();
    await seen('static-since');
    await goTo(page, 'Look, and mark it');
    await seen('after');
    await goTo(page, 'Other hole, by radio');
    await page.locator('.code').waitFor();
    await seen('radio');
    await goTo(page, 'Other phone, here');
    await page.locator('.qr').waitFor();
    await seen('meet');
    await goTo(page, 'Pump’s gauge');
    await seen('pump-none');
    await tap(page, 'The rest');
    await seen('rest');
    expect(wrong).toEqual([]);
    await context.close();
  });

/** A plan of the small town, as a desk makes it. */
async function planned(): Promise<Buffer> {
  const engine = await Engine.start(readFileSync(engineFile));
  const load = (kind: string, file: string) => engine.load(kind, readFileSync(file), file);
  const { document } = engine.ask({
    question: 'plan', network: load('network', townFile), pipe: 'M2@125m', date: '2026-11-25', temperature: '20degF',
    procedure: load('profile', join(top, 'profiles/demo-company.json')), tools: load('tools', join(top, 'profiles/demo-tools.json')),
  });
  return Buffer.from(JSON.stringify(document));
}

test('planned again with the pipe found: before beside after, and it counts when it is taken on', async () => {
  const { context, page, wrong } = await open(at.chromium);
  await page.goto(at.host.url);
  await page.locator('input[type=file]').setInputFiles({ name: 'ring.json', mimeType: 'application/json', buffer: await planned() });
  await tap(page, /^Clear of the gas/);
  await tap(page, 'Take the plan on');
  await tap(page, /^B squeeze/);
  await type(page, /^Your number/, 'P-7');
  await tap(page, 'I take this plan on');
  await page.getByRole('button', { name: 'Next step of the plan' }).waitFor();
  await goTo(page, 'Pipe found');
  for (const [row, value] of [[/^Size/, 'IPS 4'], [/^DR or SDR/, '13.5'], [/^Material/, 'PE2708']] as const) await type(page, row, value);
  await tap(page, 'This is the pipe');
  await tap(page, 'Plan again, with this pipe');
  await page.locator('input[type=file]').setInputFiles(townFile);
  await page.getByText(/is taken as found, IPS 4 DR 13.5 PE2708/).waitFor();
  await picture(page, 'phone-again');
  await looksRight(page, () => picture(page, 'phone-night-again'));
  await tap(page, 'Put this plan on the table');
  await page.getByRole('button', { name: 'I take this plan on' }).waitFor();
  await page.getByText(/IPS 4 DR 13.5 PE2708/).first().waitFor();
  await tap(page, 'I take this plan on');
  await page.getByRole('button', { name: 'Next step of the plan' }).waitFor();
  expect(wrong).toEqual([]);
  await context.close();
});
