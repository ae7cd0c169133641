// Writes shared/documents.ts: a TypeScript type for every document that the page reads or writes, from schema/.
//   node tools/types.mjs          writes
//   typesText()                   the text, for the test that the file is current
import { readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const here = dirname(fileURLToPath(import.meta.url));
const documents = [
  'squeeze', 'pace', 'watch', 'print-line', 'pipes', 'vent', 'pressure-test', 'purge', 'time-left', 'job-state', 'job-handover',
  'job-verify', 'job-plan', 'job-radio', 'gauge', 'plan', 'relight', 'timeline', 'join',
];

const nameOf = (word) => word.replace(/(^|[-_.])(\w)/g, (_, __, letter) => letter.toUpperCase());
const keyOf = (key) => (/^\w+$/.test(key) ? key : JSON.stringify(key));

function objectType(schema, indent) {
  const inner = `${indent}  `;
  const required = new Set(schema.required ?? []);
  const lines = Object.entries(schema.properties ?? {}).map(
    ([key, value]) => `${inner}${keyOf(key)}${required.has(key) ? '' : '?'}: ${typeOf(value, inner)};`);
  return lines.length === 0 ? 'Record<string, unknown>' : `{\n${lines.join('\n')}\n${indent}}`;
}

const plain = {
  string: () => 'string',
  number: () => 'number',
  integer: () => 'number',
  boolean: () => 'boolean',
  null: () => 'null',
  array: (schema, indent) => `(${typeOf(schema.items ?? {}, indent)})[]`,
  object: objectType,
};

function typeOf(schema, indent) {
  if ('const' in schema) return JSON.stringify(schema.const);
  if (schema.enum) return schema.enum.map((value) => JSON.stringify(value)).join(' | ');
  if (schema.anyOf) return schema.anyOf.map((one) => typeOf(one, indent)).join(' | ');
  if (schema.type === undefined) return 'unknown';
  return [schema.type].flat().map((type) => plain[type](schema, indent)).join(' | ');
}

export function typesText() {
  const parts = ['// Written by tools/types.mjs from schema/. Do not edit.\n'];
  for (const document of documents)
    for (const side of ['request', 'reply']) {
      const schema = JSON.parse(readFileSync(join(here, `../../schema/${document}.${side}.schema.json`), 'utf8'));
      parts.push(`export interface ${nameOf(document)}${nameOf(side)} ${objectType(schema, '')}\n`);
    }
  return parts.join('\n');
}

export const typesFile = join(here, '../shared/documents.ts');
if (process.argv[1] === fileURLToPath(import.meta.url)) writeFileSync(typesFile, typesText());
