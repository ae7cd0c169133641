// The phone as a crew meets it: two taps, gas, a pipe that is not the map's, no signal, a newer version, a keyboard.
import { expect, test } from 'vitest';

import { looksRight, open } from './look';
import { goTo, onPlan } from './plan';
import { foundPipe, hosted, picture, practise, ready, serve, stop, tap } from './phone';

const at = hosted();

test('an emergency begins in two taps, and the log with the first', async () => {
  const { context, page, wrong } = await open(at.chromium);
  await page.goto(at.host.url);
  await picture(page, 'start');
  await looksRight(page);
  await tap(page, /^Gas is blowing/);
  await page.getByRole('heading', { name: 'Where is this phone?' }).waitFor();
  await picture(page, 'zone');
  await looksRight(page);
  await tap(page, /^Clear of the gas/);
  await page.getByRole('button', { name: 'Read the pipe' }).waitFor();
  await picture(page, 'now');
  await looksRight(page);
  expect(await page.getByText('2 entries are safe on this phone').count()).toBe(1);
  expect(wrong).toEqual([]);
  await context.close();
});

test('in the gas there is one thing to do with the phone', async () => {
  const { context, page } = await open(at.chromium);
  await page.goto(at.host.url);
  await tap(page, /^Gas is blowing/);
  await tap(page, /^In the gas/);
  await page.getByRole('heading', { name: 'LEAVE THE PHONE' }).waitFor();
  expect(await page.getByRole('button').count()).toBe(1);
  await picture(page, 'leave');
  await looksRight(page);
  await page.reload();
  await page.getByRole('heading', { name: 'LEAVE THE PHONE' }).waitFor();
  await context.close();
});

test('found pipe: the answer is on the screen, before beside after, with the reason', async () => {
  const { context, page } = await open(at.chromium);
  await practise(page, at.host.url);
  await foundPipe(page);
  const row = page.getByRole('row', { name: /^Stop/ });
  await row.waitFor();
  expect(await row.textContent()).toBe('StopS-4-11S-4-11.5');
  expect(await page.getByText(/^S-4-11: /).count()).toBe(1);
  await context.close();
});

test('a plan brought in: its first step, and what is not behind a cut', async () => {
  const { context, page, wrong } = await open(at.chromium);
  await onPlan(page, at.host.url);
  await page.getByText('Clear the area').waitFor();
  await goTo(page, 'Before the cut');
  await page.getByText('Stands before it: 9.').waitFor();
  expect(await page.getByRole('button', { name: 'Two numbers and a reason first' }).isDisabled()).toBe(true);
  await looksRight(page);
  expect(wrong).toEqual([]);
  await context.close();
});

test('without signal: the page and the engine come back', async () => {
  const own = await serve();
  const { context, page, wrong } = await open(at.chromium);
  await page.goto(own.url);
  await ready(page);
  await stop(own);
  await context.setOffline(true);
  await page.reload();
  await tap(page, /^Practise/);
  await tap(page, /^Clear of the gas/);
  await foundPipe(page);
  expect(wrong.filter((what) => what.startsWith('http'))).toEqual([]);
  await context.close();
});

test('a newer version is told, waits while a job is open, and is taken by a tap', async () => {
  const own = await serve();
  const { context, page } = await open(at.chromium);
  await page.goto(own.url);
  await ready(page);
  await page.reload();
  await tap(page, /^Practise/);
  await tap(page, /^Clear of the gas/);
  own.instead.set('/sw.js', `${await (await fetch(`${own.url}sw.js`)).text()}\n// a newer version\n`);
  await page.evaluate(() => navigator.serviceWorker.ready.then((worker) => worker.update()).then(() => undefined));
  await page.getByText('A newer version is on this phone.').waitFor();
  expect(await page.getByRole('button', { name: 'Change to it now' }).count()).toBe(0);
  await picture(page, 'newer');
  await tap(page, 'The rest');
  await tap(page, 'Leave this job');
  await tap(page, 'Change to it now');
  await page.getByText('A newer version is on this phone.').waitFor({ state: 'detached' });
  await context.close();
  await stop(own);
});

test('by keyboard alone, and as a screen reader hears it', async () => {
  const { context, page } = await open(at.chromium);
  await page.goto(at.host.url);
  const press = async (name: RegExp) => {
    for (let i = 0; i < 20; i += 1) {
      await page.keyboard.press('Tab');
      const text = await page.evaluate(() => document.activeElement?.textContent ?? '');
      if (name.test(text)) return page.keyboard.press('Enter');
    }
    throw new Error(`no ${name} by keyboard`);
  };
  await press(/^Practise/);
  await page.getByRole('heading', { name: 'Where is this phone?' }).waitFor();
  await press(/^Clear of the gas/);
  await page.getByRole('button', { name: 'Read the pipe' }).waitFor();
  await press(/^Read the pipe/);
  await page.getByRole('heading', { name: 'Pipe found' }).waitFor();
  expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Pipe found');
  await press(/^This is the pipe/);
  await page.getByRole('heading', { name: 'Stop and verdict' }).waitFor();
  await picture(page, 'keyboard');
  await page.getByRole('region', { name: /^Stop S-4-11: 0\.\d+ in/ }).waitFor();
  const heard = await page.locator('body').ariaSnapshot();
  expect(heard).toContain('heading "Stop and verdict" [level=1]');
  expect(heard).toContain('button "Close it"');
  await context.close();
});
