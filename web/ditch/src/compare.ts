// Before beside after: the same lines of two squeeze replies, and why they differ, in the engine's own words.
import type { SqueezeReply } from '../../shared/documents';
import { clock, gap, says, type Units } from '../../shared/units';

export interface Line {
  what: 'pipe' | 'stop' | 'gap' | 'closing' | 'verdict';
  before: string;
  after: string;
}

function column(reply: SqueezeReply, units: Units, none: string): Record<Line['what'], string> {
  const { pipe, stop, close } = reply;
  return {
    pipe: [pipe.size, pipe.ratio === null ? '' : `DR ${pipe.ratio}`, pipe.material ?? ''].filter(Boolean).join(' '),
    stop: stop?.id ?? none,
    gap: reply.gap_m === null ? none : says(gap(reply.gap_m, units, 'nearest')),
    closing: close === null ? none : clock(close.shortest_s, 'up'),
    verdict: reply.verdict,
  };
}

export function compare(before: SqueezeReply, after: SqueezeReply, units: Units, none: string): Line[] {
  const [old, now] = [column(before, units, none), column(after, units, none)];
  return (Object.keys(now) as Line['what'][]).map((what) => ({ what, before: old[what], after: now[what] }));
}

/** Findings that came or went with the change, and why the stop of before no longer fits. */
export function because(before: SqueezeReply, after: SqueezeReply): string[] {
  const had = new Set(before.findings.map((finding) => finding.says));
  const came = after.findings.filter((finding) => !had.has(finding.says)).map((finding) => finding.says);
  const old = after.stops.find((stop) => stop.id === before.stop?.id);
  return [...(old && !old.fits && old.because ? [`${old.id}: ${old.because}`] : []), ...came];
}
