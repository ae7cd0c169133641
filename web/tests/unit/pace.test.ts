// The timetable read by the clock: on the tables of the contract corpus.
import { readFileSync } from 'node:fs';

import { describe, expect, test } from 'vitest';

import { countAt, earliest, gapAt, standing, type Timetable } from '../../ditch/src/pace';

interface File {
  reply: { close: Timetable; open: Timetable };
}
const { reply } = JSON.parse(readFileSync('../tests/contract/pace/demo_strokes.json', 'utf8')) as File;
const { close, open } = reply;
const start = { at_s: 1000, gap_m: 0.219075 };
const end = close.steps.at(-1)!;

test('every mark of the engine is met at its time, with its count', () => {
  for (const table of [close, open])
    for (const mark of table.marks) {
      expect(gapAt(table, mark.at_s)).toBeCloseTo(mark.gap_m, 9);
      expect(countAt(table, mark.gap_m)).toBeCloseTo(mark.count!, 6);
      expect(earliest(table, mark.gap_m)).toBeLessThanOrEqual(mark.at_s + 1e-9);
    }
});

test('the target never moves back and ends on the stops', () => {
  let last = start.gap_m;
  for (let second = 0; second <= 500; second += 1) {
    const now = standing(close, [start], start.at_s + second);
    expect(now.gap_m).toBeLessThanOrEqual(last + 1e-12);
    last = now.gap_m;
  }
  expect(last).toBeCloseTo(end.to_gap_m, 12);
  expect(standing(close, [start], start.at_s + 500).pace).toBe('there');
});

describe('the word', () => {
  test('on pace while a step runs, wait between two steps', () => {
    expect(standing(close, [start], start.at_s + 20)).toMatchObject({ pace: 'move' });
    const wait = standing(close, [start], start.at_s + 45);
    expect(wait.pace).toBe('wait');
    expect(wait.left_s).toBeCloseTo(15, 6);
  });

  test('slow down when the bars are further than the table, for as long as it takes', () => {
    const now = standing(close, [start, { at_s: 1010, gap_m: 0.168275 }], 1010);
    expect(now.pace).toBe('slow');
    expect(now.left_s).toBeCloseTo(earliest(close, 0.168275) - 10, 6);
    expect(standing(close, [start, { at_s: 1010, gap_m: 0.168275 }], 1110).pace).not.toBe('slow');
  });

  test('whoever is behind does not catch up: the table goes back to the bars', () => {
    const late = { at_s: 1300, gap_m: 0.2 };
    const now = standing(close, [start, late], 1300);
    expect(now.gap_m).toBeCloseTo(0.2, 9);
    expect(standing(close, [start, late], 1301).gap_m).toBeGreaterThan(0.2 - 2 * close.speed_m_per_s);
  });

  test('opening goes the other way', () => {
    const shut = { at_s: 0, gap_m: 0.02794 };
    const wide = { at_s: 1, gap_m: 0.1 };
    expect(standing(open, [shut], 10).gap_m).toBeGreaterThan(shut.gap_m);
    expect(standing(open, [shut, wide], 2).pace).toBe('slow');
  });
});
