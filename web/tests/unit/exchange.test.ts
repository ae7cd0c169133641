// A log as a row of QR codes, and back.
import { expect, test } from 'vitest';

import { base45, Collector, fromBase45, parts } from '../../shared/exchange';

const bytes = (text: string) => new TextEncoder().encode(text);

test('Base45: the examples of RFC 9285, 4.3 and 4.4', () => {
  expect(base45(bytes('AB'))).toBe('BB8');
  expect(base45(bytes('Hello!!'))).toBe('%69 VD92EX0');
  expect(base45(bytes('base-45'))).toBe('UJCLQE7W581');
  expect(new TextDecoder().decode(fromBase45('QED8WEX0'))).toBe('ietf!');
  expect(() => fromBase45('GGW')).toThrow(RangeError);
  expect(() => fromBase45('ab')).toThrow(RangeError);
});

/** Lines that do not pack well: what a log's hashes are. */
function log(count: number): string {
  let seed = 7;
  const figure = () => { seed = (seed * 1103515245 + 12345) % 2147483648; return seed.toString(16); };
  return Array.from({ length: count }, () => `{"hash":"${Array.from({ length: 8 }, figure).join('')}"}\n`).join('');
}

test('a log comes out as it went in, whatever the order, and parts may be read twice', async () => {
  const lines = log(60);
  const codes = await parts(lines);
  expect(codes.length).toBeGreaterThan(2);
  const collector = new Collector();
  expect(collector.add('http://somewhere')).toBe(false);
  for (const code of [...codes].reverse()) {
    expect(await collector.lines()).toBeUndefined();
    expect(collector.add(code)).toBe(true);
    collector.add(code);
  }
  expect(await collector.lines()).toBe(lines);
});

test('parts of another log begin anew', async () => {
  const [first, other] = [await parts(log(60)), await parts(log(4))];
  const collector = new Collector();
  collector.add(first[0]!);
  for (const code of other) collector.add(code);
  expect(await collector.lines()).toBe(log(4));
});
