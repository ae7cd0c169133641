// The camera reads another phone's codes. Chromium shows the page a film that this test draws; Linux has no reader of codes
// of its own, so another library's stands in its place: it also holds what is drawn against a reader that is not ours.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

import { afterAll, beforeAll, expect, test } from 'vitest';
import { encode } from 'uqr';

import { parts } from '../../shared/exchange';
import { open } from '../browser/look';
import { browser, picture, serve, stop, tap, type Host } from '../browser/phone';
import { goTo } from '../browser/plan';

const jsQR = readFileSync(createRequire(import.meta.url).resolve('jsqr'), 'utf8');
/** A reader of codes, by what a phone's browser has of its own. */
const reader = `${jsQR}
globalThis.BarcodeDetector = class {
  async detect(video) {
    const [width, height] = [video.videoWidth, video.videoHeight];
    if (!width) return [];
    const canvas = new OffscreenCanvas(width, height).getContext('2d');
    canvas.drawImage(video, 0, 0);
    const found = jsQR(canvas.getImageData(0, 0, width, height).data, width, height);
    return found ? [{ rawValue: found.data }] : [];
  }
};`;

const side = 640;

/** One frame: the code in the middle of a grey picture, YUV 4:2:0. */
function frame(text: string): Buffer {
  const { data, size } = encode(text, { ecc: 'L', border: 4 });
  const scale = Math.floor(side / size);
  const edge = Math.floor((side - size * scale) / 2);
  const light = Buffer.alloc(side * side, 128);
  data.forEach((row, y) => row.forEach((dark, x) => {
    for (let i = 0; i < scale; i += 1) light.fill(dark ? 16 : 235, (edge + y * scale + i) * side + edge + x * scale, (edge + y * scale + i) * side + edge + (x + 1) * scale);
  }));
  return Buffer.concat([Buffer.from('FRAME\n'), light, Buffer.alloc(side * side / 2, 128)]);
}

let host: Host;
beforeAll(async () => { host = await serve(); });
afterAll(() => stop(host));

test('the other phone’s log, read from its codes by the camera', async () => {
  const plain = await browser();
  const one = await open(plain);
  await one.page.goto(host.url);
  await tap(one.page, /^Gas is blowing/);
  await tap(one.page, /^Clear of the gas/);
  await one.page.getByRole('button', { name: 'Read the pipe' }).waitFor();
  await goTo(one.page, 'The log');
  const [download] = await Promise.all([one.page.waitForEvent('download'), tap(one.page, 'Save the log as a file')]);
  const log = readFileSync(await download.path(), 'utf8');
  await plain.close();

  const folder = mkdtempSync(join(tmpdir(), 'film-'));
  const film = join(folder, 'codes.y4m');
  const codes = await parts(log);
  writeFileSync(film, Buffer.concat([Buffer.from(`YUV4MPEG2 W${side} H${side} F5:1 Ip A1:1 C420\n`), ...codes.flatMap((code) => [frame(code), frame(code), frame(code)])]));
  const filmed = await browser(['--use-fake-ui-for-media-stream', '--use-fake-device-for-media-stream', `--use-file-for-fake-video-capture=${film}`]);
  const other = await open(filmed);
  await other.page.addInitScript(reader);
  await other.page.goto(host.url);
  await tap(other.page, /^Gas is blowing/);
  await tap(other.page, /^Clear of the gas/);
  await other.page.getByRole('button', { name: 'Read the pipe' }).waitFor();
  await goTo(other.page, 'Other phone, here');
  await tap(other.page, 'Read the other phone’s codes');
  await other.page.getByText('Hold the camera to the other phone').waitFor();
  await picture(other.page, 'phone-camera');
  await other.page.getByText('That log is of another job. It is on the first screen.').waitFor({ timeout: 60000 });
  await tap(other.page, 'The rest');
  await tap(other.page, 'Leave this job');
  expect(await other.page.locator('.rows .row').count()).toBe(2);
  expect(other.wrong).toEqual([]);
  await filmed.close();
  rmSync(folder, { recursive: true, force: true });
});
