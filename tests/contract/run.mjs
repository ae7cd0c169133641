// The contract corpus through the WebAssembly engine, and every document of it against its schema.
//   node --test tests/contract/run.mjs
import assert from 'node:assert/strict';
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import test from 'node:test';
import { fileURLToPath } from 'node:url';

import Ajv from 'ajv';

import { Engine, Trouble } from '../../apps/browser/engine.mjs';
import { differences } from './alike.mjs';

const here = dirname(fileURLToPath(import.meta.url));
const top = join(here, '../..');
const wasm = await WebAssembly.compile(readFileSync(join(top, 'build/wasm/apps/browser/engine.wasm')));
const readJson = (path) => JSON.parse(readFileSync(path, 'utf8'));

const schemas = new Ajv({ allErrors: true, allowUnionTypes: true });
for (const file of readdirSync(join(top, 'schema')).filter((name) => name.endsWith('.schema.json')))
  schemas.addSchema(readJson(join(top, 'schema', file)), file);

/** What `document` breaks of a schema of the project. */
function broken(name, document) {
  const check = schemas.getSchema(`${name}.schema.json`);
  if (!check) return [`schema/${name}.schema.json is missing`];
  check(document);
  return (check.errors ?? []).map((error) => `${name}: ${error.instancePath || 'document'} ${error.message}`);
}

/** The request with the hash of each loaded document in place of its name. */
function withHashes(value, hashes) {
  if (typeof value === 'string') return hashes.get(value) ?? value;
  if (Array.isArray(value)) return value.map((entry) => withHashes(entry, hashes));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, entry]) => [key, withHashes(entry, hashes)]));
}

/** Asks one case of a fresh engine. */
async function answer({ loads = {}, request }) {
  const engine = await Engine.start(wasm);
  const hashes = new Map();
  for (const [name, { kind, file }] of Object.entries(loads))
    hashes.set(name, engine.load(kind, readFileSync(join(top, file)), file));
  if (typeof request === 'string') return { request, ...engine.ask(request) };
  const asked = withHashes(request, hashes);
  return { request: asked, ...engine.ask(asked) };
}

const folders = readdirSync(here, { withFileTypes: true })
  .filter((entry) => entry.isDirectory() && entry.name !== 'node_modules')
  .map((entry) => entry.name);
const casesOf = (folder) => readdirSync(join(here, folder)).filter((name) => /^[^.]+\.json$/.test(name));

for (const folder of folders) {
  for (const file of casesOf(folder)) {
    test(`${folder}: ${basename(file, '.json')}`, async () => {
      const wanted = readJson(join(here, folder, file));
      const got = await answer(wanted);
      assert.equal(got.outcome, wanted.outcome);
      assert.deepEqual(differences(wanted.reply, got.document), []);
      if (got.outcome >= 2) {
        assert.deepEqual(broken('refusal', got.document), []);
        return;
      }
      assert.equal(got.request.question, folder);
      assert.deepEqual(broken(`${folder}.request`, got.request), []);
      assert.deepEqual(broken(`${folder}.reply`, got.document), []);
    });
  }
}

test('every question of the engine has a case and two schemas', async () => {
  const engine = await Engine.start(wasm);
  const { document } = engine.ask({ question: '' });
  const questions = document.trouble.fix.replace(/^.*: /, '').split(', ');
  assert.ok(questions.length > 0 && questions[0] !== '');
  for (const question of questions) {
    assert.ok(folders.includes(question) && casesOf(question).length > 0, `no case for ${question}`);
    for (const side of ['request', 'reply'])
      assert.ok(existsSync(join(top, `schema/${question}.${side}.schema.json`)), `no ${side} schema for ${question}`);
  }
});

test('a document that cannot be loaded is trouble, and the engine goes on', async () => {
  const engine = await Engine.start(wasm);
  assert.throws(() => engine.load('network', '{', 'town.json'), Trouble);
  assert.equal(engine.ask('[').outcome, 2);
});

test('replies that differ are not alike', () => {
  const between = (wanted, got) => differences(JSON.parse(wanted), JSON.parse(got));
  assert.deepEqual(between('{"a":1,"b":[1e5]}', '{"a":1.0,"b":[100000.00005]}'), []);
  assert.deepEqual(between('[0]', '[1e-13]'), []);
  assert.deepEqual(between('{"a":{"b":1}}', '{"a":{"b":1.00000001}}'), ['a.b: wanted 1, got 1.00000001']);
  assert.equal(between('[0]', '[1e-11]').length, 1);
  assert.deepEqual(between('{"a":null}', '{"a":0}'), ['a: wanted null, got 0']);
  assert.deepEqual(between('{"a":1}', '{}'), ['a: missing']);
  assert.deepEqual(between('{}', '{"a":1}'), ['a: not wanted']);
  assert.deepEqual(between('[1,2]', '[1]'), ['document: wanted 2 entries, got 1']);
});

test('a document that breaks its schema is said so', () => {
  assert.notDeepEqual(broken('refusal', { engine: 'x' }), []);
  assert.deepEqual(broken('no-such'), ['schema/no-such.schema.json is missing']);
});
