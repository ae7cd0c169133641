// The contract corpus as the phone's worker is asked it: load what a case names, ask, compare.
import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';

import { top } from './places';

export interface Case {
  name: string;
  loads: { name: string; kind: string; file: string; text: string }[];
  request: unknown;
  outcome: number;
  reply: unknown;
}

interface File {
  loads?: Record<string, { kind: string; file: string }>;
  request: unknown;
  outcome: number;
  reply: unknown;
}

const folder = join(top, 'tests/contract');

export function corpus(): Case[] {
  const questions = readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory() && entry.name !== 'node_modules');
  return questions.flatMap(({ name: question }) =>
    readdirSync(join(folder, question))
      .filter((name) => /^[^.]+\.json$/.test(name))
      .map((name) => {
        const { loads = {}, request, outcome, reply } = JSON.parse(readFileSync(join(folder, question, name), 'utf8')) as File;
        const texts = Object.entries(loads).map(([key, { kind, file }]) =>
          ({ name: key, kind, file, text: readFileSync(join(top, file), 'utf8') }));
        return { name: `${question}: ${name}`, loads: texts, request, outcome, reply };
      }));
}

/** The request with the hash of each loaded document in place of its name. */
export function withHashes(value: unknown, hashes: Record<string, string>): unknown {
  if (typeof value === 'string') return hashes[value] ?? value;
  if (Array.isArray(value)) return value.map((entry) => withHashes(entry, hashes));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, entry]) => [key, withHashes(entry, hashes)]));
}
