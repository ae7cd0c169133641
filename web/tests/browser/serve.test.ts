// `bellhole serve` at its own door: the page, its types, its policy, and nothing beside the page.
import { spawn, spawnSync } from 'node:child_process';
import { request } from 'node:http';
import { join } from 'node:path';

import { expect, test } from 'vitest';

import { page, top } from '../places';

const program = process.env['BELLHOLE'] ?? join(top, 'build/native/apps/cli/bellhole');

/** A request as it is written: `fetch` would tidy the path first. */
function raw(port: number, path: string, method = 'GET'): Promise<{ status: number; headers: Record<string, unknown>; size: number }> {
  return new Promise((resolve, reject) => {
    const asked = request({ host: '127.0.0.1', port, path, method }, (response) => {
      let size = 0;
      response.on('data', (bytes: Buffer) => { size += bytes.length; });
      response.on('end', () => resolve({ status: response.statusCode ?? 0, headers: response.headers, size }));
    });
    asked.on('error', reject);
    asked.end();
  });
}

test('serves the page on this machine only, and nothing else', async () => {
  const serving = spawn(program, ['serve', page, '--port', '0'], { stdio: ['ignore', 'pipe', 'inherit'] });
  const ended = new Promise((resolve) => serving.on('exit', resolve));
  const port = await new Promise<number>((resolve) =>
    serving.stdout.once('data', (line: Buffer) => resolve(Number(/:(\d+)\//.exec(String(line))![1]))));
  const index = await raw(port, '/');
  expect(index.status).toBe(200);
  expect(index.headers['content-security-policy']).toContain("default-src 'none'");
  expect(index.headers['content-security-policy']).toContain("frame-ancestors 'none'");
  expect(index.headers['x-content-type-options']).toBe('nosniff');
  expect((await raw(port, '/manifest.webmanifest')).headers['content-type']).toBe('application/manifest+json');
  for (const path of ['/../../../README.md', '/%2e%2e/%2e%2e/%2e%2e/README.md', '//etc/passwd', '/assets/', '/none.js'])
    expect((await raw(port, path)).status, path).toBe(404);
  expect((await raw(port, '/', 'POST')).status).toBe(404);
  serving.kill();
  await ended;
});

test('a folder that holds no page, and a port that is taken, are bad input', () => {
  const run = (...words: string[]) => spawnSync(program, ['serve', ...words, '--json'], { encoding: 'utf8', timeout: 10000 });
  const none = run('/tmp/no-page-here');
  expect(none.status).toBe(2);
  expect(JSON.parse(none.stdout)).toMatchObject({ trouble: { where: 'PAGE' } });
  expect(run(page, '--port', 'x').status).toBe(2);
});
