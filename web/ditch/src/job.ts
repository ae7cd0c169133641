// What the log of a job says, read for the screens. Nothing here is kept: a killed page reads it again.
import type { JobEvent, Fact } from '../../shared/event';

export interface Point {
  at_ms: number;
  gap_m: number;
}

export interface Reading {
  at_ms: number;
  typed: string;
}

export interface JobView {
  title: string;
  work: 'planned' | 'emergency' | 'drill';
  began_ms: number;
  /** What was last said of where the phone is. */
  phone: 'clear' | 'gas' | 'unknown';
  pipes: Fact[];
  mapSaid: string;
  /** Points of the bars since the last act on the hole. */
  bars: Point[];
  squeezed: boolean;
  released: boolean;
  prompts: Map<string, string>;
  readings: Reading[];
  handedTo: string;
  events: number;
}

export const hole = 'A';
export const phonePrompt = 'the phone is clear of the gas';

const text = (value: unknown): string => (typeof value === 'string' ? value : '');

function take(view: JobView, event: JobEvent): void {
  const { kind, fact } = event;
  const at_ms = Date.parse(event.happened_at);
  if (kind === 'opened') {
    view.title = text(fact['title']);
    view.work = fact['work'] as JobView['work'];
    view.began_ms = at_ms;
  }
  if (kind === 'prompt') {
    const says = text(fact['says']);
    view.prompts.set(says, text(fact['answer']));
    if (says === phonePrompt) view.phone = fact['answer'] === 'yes' ? 'clear' : 'gas';
  }
  if (kind === 'pipe_found') {
    view.pipes.push(fact['pipe'] as Fact);
    view.mapSaid = text(fact['map_said']);
  }
  if (kind === 'bars' && typeof fact['gap_m'] === 'number') view.bars.push({ at_ms, gap_m: fact['gap_m'] });
  if (kind === 'act') {
    view.bars = [];
    view.squeezed = fact['did'] === 'shut';
    view.released = fact['did'] === 'undone' || fact['did'] === 'opened';
  }
  if (kind === 'reading') view.readings.push({ at_ms, typed: text(fact['typed']) });
  if (kind === 'handed_over') view.handedTo = text(fact['to']);
}

export function read(events: JobEvent[]): JobView {
  const view: JobView = {
    title: '', work: 'emergency', began_ms: 0, phone: 'unknown', pipes: [], mapSaid: '', bars: [], squeezed: false,
    released: false, prompts: new Map(), readings: [], handedTo: '', events: events.length,
  };
  for (const event of events) take(view, event);
  return view;
}

export type Screen =
  | 'now' | 'zone' | 'pipe' | 'verdict' | 'reasons' | 'safety' | 'close' | 'open' | 'watch' | 'handover' | 'log'
  | 'company' | 'hole' | 'rest' | 'limit';

/** The one next step. */
export function nextStep(view: JobView): Screen {
  if (view.phone !== 'clear') return 'zone';
  if (view.pipes.length === 0) return 'pipe';
  if (view.released) return 'handover';
  if (view.squeezed) return view.bars.length > 0 ? 'open' : 'watch';
  return view.bars.length > 0 ? 'close' : 'verdict';
}
