// Where a timetable of the engine stands now. The table is the engine's; this only reads it by the clock.
//
// The table is the fastest that is allowed, so being behind is no fault. But whoever is behind may not catch up: a
// measured point that lies behind the table sets the table back to that point. A point that lies ahead of it was too
// fast, and the table is waited for.
import type { SqueezeReply } from '../../shared/documents';

export type Timetable = NonNullable<SqueezeReply['close']>;

export interface Measured {
  at_s: number;
  gap_m: number;
}

export type Pace = 'move' | 'wait' | 'slow' | 'there';

export interface Standing {
  /** Seconds of the table that have been used. */
  at_s: number;
  pace: Pace;
  /** The gap that the bars may have now. */
  gap_m: number;
  /** Strokes or turns to that gap; null where the tool's record has no travel. */
  count: number | null;
  /** Until the pace changes by itself: the end of a wait, or the table catching up with bars that were too fast. */
  left_s: number;
}

function steps(table: Timetable) {
  return table.steps as { from_gap_m: number; to_gap_m: number; starts_s: number; ends_s: number; wait_s: number }[];
}

function between(x: number, x0: number, x1: number, y0: number, y1: number): number {
  return x1 === x0 ? y1 : y0 + ((y1 - y0) * Math.min(Math.max(x - x0, 0), x1 - x0)) / (x1 - x0);
}

/** The gap of the table at a time. */
export function gapAt(table: Timetable, at_s: number): number {
  const all = steps(table);
  const step = all.findLast((one) => one.starts_s <= at_s) ?? all[0]!;
  return between(at_s, step.starts_s, step.ends_s, step.from_gap_m, step.to_gap_m);
}

/** Whether `a` is further on the way of the table than `b`. */
function further(table: Timetable, a: number, b: number): boolean {
  const all = steps(table);
  return all.at(-1)!.to_gap_m < all[0]!.from_gap_m ? a < b : a > b;
}

/** The earliest time of the table at which the bars may have this gap. */
export function earliest(table: Timetable, gap_m: number): number {
  const step = steps(table).find((one) => !further(table, gap_m, one.to_gap_m));
  if (step === undefined) return steps(table).at(-1)!.ends_s;
  const way = (gap_m - step.from_gap_m) / (step.to_gap_m - step.from_gap_m);
  return step.starts_s + Math.min(Math.max(way, 0), 1) * (step.ends_s - step.starts_s);
}

/** Strokes or turns of the table at a gap. */
export function countAt(table: Timetable, gap_m: number): number | null {
  const marks = table.marks as { gap_m: number; count: number | null }[];
  const after = Math.max(marks.findIndex((mark) => !further(table, gap_m, mark.gap_m)), 1);
  const [a, b] = [marks[after - 1], marks[after]];
  if (a?.count == null || b?.count == null) return null;
  const way = Math.min(Math.max((gap_m - a.gap_m) / (b.gap_m - a.gap_m), 0), 1);
  return a.count + way * (b.count - a.count);
}

/** The standing at `now_s`; `measured` begins with the point at which the bars began to move. */
export function standing(table: Timetable, measured: Measured[], now_s: number): Standing {
  const end = steps(table).at(-1)!.ends_s;
  let at_s = 0;
  let last = measured[0]!;
  for (const point of measured.slice(1)) {
    at_s = Math.min(at_s + Math.max(point.at_s - last.at_s, 0), end);
    if (further(table, gapAt(table, at_s), point.gap_m)) at_s = earliest(table, point.gap_m);
    last = point;
  }
  at_s = Math.min(at_s + Math.max(now_s - last.at_s, 0), end);
  const gap_m = gapAt(table, at_s);
  const ahead_s = earliest(table, last.gap_m) - at_s;
  const all = steps(table);
  const step = all.findLast((one) => one.starts_s <= at_s) ?? all[0]!;
  const next = all[all.indexOf(step) + 1];
  const shared = { at_s, gap_m, count: countAt(table, gap_m) };
  if (ahead_s > 0 && further(table, last.gap_m, gap_m)) return { ...shared, pace: 'slow', left_s: ahead_s };
  if (at_s >= end) return { ...shared, pace: 'there', left_s: 0 };
  if (at_s >= step.ends_s && next) return { ...shared, pace: 'wait', left_s: next.starts_s - at_s };
  return { ...shared, pace: 'move', left_s: step.ends_s - at_s };
}
