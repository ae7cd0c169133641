// The house rules of the page: types are current, words come from the message file, no word permits.
import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';

import { expect, test } from 'vitest';

import { en } from '../../ditch/src/messages/en';
import { typesFile, typesText } from '../../tools/types.mjs';

const source = new URL('../../ditch/src', import.meta.url).pathname;
const files = readdirSync(source, { recursive: true, encoding: 'utf8' }).filter((name) => /\.tsx?$/.test(name));
const text = (name: string) => readFileSync(join(source, name), 'utf8');

test('the types are those of the schemas', () => {
  expect(readFileSync(typesFile, 'utf8')).toBe(typesText());
});

test('no screen holds words of its own', () => {
  const found = files.filter((name) => name.endsWith('.tsx')).flatMap((name) =>
    [...text(name).matchAll(/>([^<>{}()=;]*[A-Za-z]{3,}[^<>{}()=;]*)<\//g)].map((hit) => `${name}: ${hit[1]}`));
  expect(found).toEqual([]);
});

test('every message is used, and none permits', () => {
  const all = files.filter((name) => !name.startsWith('messages')).map(text).join('\n');
  const built = [...all.matchAll(/`([a-z.]+)\$\{/g)].map((hit) => hit[1]!);
  const quoted = (word: string) => all.includes(`'${word}'`) || all.includes(`"${word}"`);
  const chosen = (word: string) => quoted(word.replace(/\.[^.]+$/, '')); // a field's list names where its words begin
  const unused = Object.keys(en).filter((word) => !quoted(word) && !chosen(word) && !built.some((start) => word.startsWith(start)));
  expect(unused).toEqual([]);
  for (const says of Object.values(en)) expect(says).not.toMatch(/\b(ok|okay|safe to|proved|approved|permitted|you may|all clear)\b/i);
});

test('files stay small', () => {
  for (const name of files) expect(text(name).split('\n').length, name).toBeLessThan(400);
});
