// Every screen at phone, tablet and desktop size, by day and by night, looked at by the checker and kept as a picture in out/ditch.
import { expect, test } from 'vitest';

import { looksRight, open } from '../browser/look';
import { hosted, picture, practise, tap } from '../browser/phone';

const at = hosted();

for (const size of ['phone', 'tablet', 'desk'] as const)
  test(`every screen of a practice job at ${size} size`, async () => {
    const { context, page, wrong } = await open(at.chromium, size);
    const seen = async (name: string) => { await picture(page, `${size}-${name}`); await looksRight(page, () => picture(page, `${size}-night-${name}`)); };
    await practise(page, at.host.url);
    await seen('now');
    await tap(page, 'Read the pipe');
    await seen('pipe');
    await tap(page, /^Pressure in the pipe/);
    await seen('pad');
    await tap(page, 'Back');
    await tap(page, /^DR or SDR/);
    await seen('choice');
    await tap(page, '11.5');
    await tap(page, 'This is the pipe');
    await page.getByRole('columnheader', { name: 'Before' }).waitFor();
    await seen('verdict');
    for (const [button, name] of [['All reasons', 'reasons'], ['The hole, to scale', 'hole'], ['Before a hand', 'safety'], ['Hand over', 'handover'], ['The log', 'log'], ['Company', 'company']] as const) {
      await tap(page, 'The rest');
      if (name === 'reasons') await seen('rest');
      await tap(page, new RegExp(`^${button}`));
      await page.waitForTimeout(150);
      await seen(name);
    }
    await tap(page, 'The rest');
    await tap(page, 'Close');
    await seen('close-before');
    await tap(page, /begin to close/);
    await page.getByText('ON PACE').first().waitFor();
    await seen('close');
    await tap(page, 'A gap was measured');
    for (let i = 0; i < 12; i += 1) await page.getByRole('button', { name: /^Smaller/ }).first().click();
    await seen('stepper');
    await tap(page, /^Record/);
    await page.getByText('SLOW DOWN').first().waitFor();
    await seen('close-slow');
    await tap(page, 'Pump’s gauge');
    await tap(page, /^On the stops/);
    for (const key of '2200') await page.getByRole('button', { name: key, exact: true }).click();
    await tap(page, 'Take it');
    await page.getByText(/^Read at a gap of .*: 2200psig$/).waitFor();
    await page.getByText(/^IPS 4 DR 11.5 PE2708 does not read like this/).waitFor();
    await seen('pump');
    await tap(page, 'Back to closing');
    await tap(page, /^Pump at its limit/);
    await seen('limit');
    await tap(page, 'Back');
    await tap(page, 'Both stops bear');
    await tap(page, 'Is it off?');
    await seen('watch-question');
    await tap(page, 'Are the shut-offs tight?');
    for (const [field, keys] of [['Volume closed in', '20'], ['Let-by', '2'], ['Smallest division', '2']] as const) {
      await tap(page, new RegExp(`^${field}`));
      for (const key of keys) await page.getByRole('button', { name: key, exact: true }).click();
      await tap(page, 'Take it');
    }
    await tap(page, 'Enter a reading');
    await page.getByRole('button', { name: '0', exact: true }).click();
    await tap(page, 'Take it');
    await page.getByRole('button', { name: 'Enter a reading' }).waitFor();
    await page.getByText('The question: are the shut-offs tight?').waitFor();
    await seen('watch');
    await tap(page, 'Before the cut');
    await page.getByText(/^Stands before it/).waitFor();
    await seen('gate-no-plan');
    await tap(page, 'Undo now: open in steps');
    await tap(page, 'Begin to open');
    await page.getByText('ON PACE').first().waitFor();
    await seen('open');
    await tap(page, 'The rest');
    await tap(page, /^Look: Day/);
    await seen('night-rest');
    await tap(page, 'The job');
    await seen('night-now');
    await tap(page, /^Units/);
    await tap(page, 'The rest');
    await tap(page, 'Stop and verdict');
    await page.getByText('mm', { exact: true }).first().waitFor();
    await seen('night-metric');
    expect(wrong).toEqual([]);
    await context.close();
  });
