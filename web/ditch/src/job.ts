// What the log of a job says, read for the screens. Nothing here is kept: a killed page reads it again. What must be
// behind a cut is not read here: the engine says that.
import type { JobEvent, Fact } from '../../shared/event';

export interface Point {
  at_ms: number;
  gap_m: number;
}

/** What the pump's gauge read where the bars stood. */
export interface Pumped extends Point {
  typed: string;
}

export interface Reading {
  at_ms: number;
  typed: string;
}

export interface Gauge {
  point: string;
  at: string;
  low_pa_gauge?: number;
  high_pa_gauge?: number;
  expect_pa_gauge?: number;
}

export interface Step {
  id: string;
  kind: string;
  does: string;
  about?: string;
  post?: { role?: string; place?: string };
  precondition?: string;
  if_not?: string;
  report_to?: string;
  hold_point?: boolean;
  point_of_no_return?: boolean;
  names_needed?: number;
  gauges?: Gauge[];
}

export interface Shutoff {
  id: string;
  kind: string;
  /** Of a squeeze: its main on the map. */
  element?: string;
  place?: string;
  pipe?: Fact;
}

export interface Plan {
  plan_id: string;
  result: string;
  engine: string;
  rank: number;
  steps: Step[];
  shutoffs: Shutoff[];
  meters: string[];
}

export interface JobView {
  title: string;
  work: 'planned' | 'emergency' | 'drill';
  began_ms: number;
  /** What was last said of where the phone is. */
  phone: 'clear' | 'gas' | 'unknown';
  plan: Plan | undefined;
  /** The plan that was taken on by name is the one on the table. */
  accepted: boolean;
  answers: Map<string, string>;
  pipes: Fact[];
  mapSaid: string;
  /** The pipe found last at each hole. */
  found: Map<string, Fact>;
  /** Points of the bars since the last act on the hole. */
  bars: Point[];
  /** Of the pump, likewise. */
  pump: Pumped[];
  /** The last act on each shut-off. */
  acts: Map<string, { did: string; at_ms: number }>;
  squeezed: boolean;
  released: boolean;
  cut: boolean;
  /** When the first shut-off was shut. */
  shut_ms: number | undefined;
  prompts: Map<string, { answer: string; at_ms: number }>;
  /** Of the part that is shut off at this hole. */
  readings: Reading[];
  meters: Map<string, string>;
  photos: Map<string, string>;
  tested: Fact | undefined;
  purged: Fact | undefined;
  marked: boolean;
  signed: { what: string; by: string; at: string }[];
  handedTo: string;
  devices: Set<string>;
  events: number;
}

export const phonePrompt = 'the phone is clear of the gas';
/** The gauge on the part's side of a hole, as plans name it. */
export const partOf = (hole: string): string => `${hole}-part`;

const text = (value: unknown): string => (typeof value === 'string' ? value : '');

type Take = (view: JobView, fact: Fact, event: JobEvent, hole: string) => void;

const atOf = (event: JobEvent): number => Date.parse(event.happened_at);

const takes: Partial<Record<string, Take>> = {
  opened: (view, fact, event) => {
    view.title = text(fact['title']);
    view.work = fact['work'] as JobView['work'];
    view.began_ms = atOf(event);
  },
  planned: (view, fact) => { view.plan = fact as unknown as Plan; view.accepted = false; },
  plan_accepted: (view, fact) => { view.accepted = fact['result'] === view.plan?.result; },
  step: (view, fact) => { view.answers.set(text(fact['step']), text(fact['answer'])); },
  prompt: (view, fact, event) => {
    const says = text(fact['says']);
    view.prompts.set(says, { answer: text(fact['answer']), at_ms: atOf(event) });
    if (says === phonePrompt) view.phone = fact['answer'] === 'yes' ? 'clear' : 'gas';
  },
  pipe_found: (view, fact, _, hole) => {
    view.found.set(text(fact['about']), fact['pipe'] as Fact);
    if (fact['about'] !== hole) return;
    view.pipes.push(fact['pipe'] as Fact);
    view.mapSaid = text(fact['map_said']);
  },
  bars: (view, fact, event, hole) => {
    if (fact['about'] !== hole || typeof fact['gap_m'] !== 'number') return;
    const point = { at_ms: atOf(event), gap_m: fact['gap_m'] };
    view.bars.push(point);
    if (fact['pump']) view.pump.push({ ...point, typed: text(fact['pump']) });
  },
  act: (view, fact, event, hole) => {
    const did = text(fact['did']);
    if (did === 'cut') view.cut = true;
    view.acts.set(text(fact['about']), { did, at_ms: atOf(event) });
    if (did === 'shut') view.shut_ms ??= atOf(event);
    if (fact['about'] !== hole) return;
    view.bars = [];
    view.pump = [];
    view.squeezed = did === 'shut';
    view.released = did === 'undone' || did === 'opened';
  },
  reading: (view, fact, event, hole) => {
    if (fact['point'] === partOf(hole)) view.readings.push({ at_ms: atOf(event), typed: text(fact['typed']) });
  },
  meter: (view, fact) => { view.meters.set(text(fact['meter']), text(fact['did'])); },
  photo: (view, fact) => { view.photos.set(text(fact['view']), text(fact['blob'])); },
  tested: (view, fact) => { view.tested = fact; },
  purged: (view, fact) => { view.purged = fact; },
  laid: (view, fact) => { view.marked = fact['marked'] === 'yes'; },
  signed: (view, fact, event) => { view.signed.push({ what: text(fact['what']), by: event.by ?? '', at: event.happened_at }); },
  handed_over: (view, fact) => { view.handedTo = text(fact['to']); },
};

export function read(events: JobEvent[], hole = 'A'): JobView {
  const view: JobView = {
    title: '', work: 'emergency', began_ms: 0, phone: 'unknown', plan: undefined, accepted: false, answers: new Map(), pipes: [],
    mapSaid: '', found: new Map(), bars: [], pump: [], acts: new Map(), squeezed: false, released: false, cut: false, shut_ms: undefined, prompts: new Map(),
    readings: [], meters: new Map(), photos: new Map(), tested: undefined, purged: undefined, marked: false, signed: [],
    handedTo: '', devices: new Set(), events: events.length,
  };
  for (const event of events) {
    view.devices.add(event.device);
    takes[event.kind]?.(view, event.fact, event, hole);
  }
  return view;
}

export type Screen =
  | 'now' | 'zone' | 'plan' | 'steps' | 'pipe' | 'verdict' | 'reasons' | 'safety' | 'static' | 'close' | 'pump' | 'open' | 'watch'
  | 'left' | 'again' | 'clock' | 'vent' | 'cut' | 'fuse' | 'test' | 'purge' | 'after' | 'customers' | 'order' | 'back' | 'photos' | 'sign' | 'radio' | 'meet' | 'handover' | 'log'
  | 'company' | 'hole' | 'rest' | 'limit';

export const behind = (view: JobView, step: Step): boolean => ['yes', 'not_needed'].includes(view.answers.get(step.id) ?? '');

/** Which screen helps with a step of a plan. */
export const screenOf: Partial<Record<string, Screen>> = {
  identify: 'pipe', prepare_tool: 'safety', ground_wet: 'static', shut: 'close', second_squeeze: 'close', hold_watch: 'watch',
  vent_down: 'vent', let_by_watch: 'watch', cut: 'cut', test: 'test', purge: 'purge', open: 'open', reround: 'open', look: 'after',
  mark: 'after', as_laid: 'after', meters_shut: 'customers', relight: 'back',
};

/** The one next step. With a plan it is the plan's, once it was taken on. */
export function nextStep(view: JobView): Screen {
  if (view.phone !== 'clear') return 'zone';
  if (view.plan && !view.accepted) return 'plan';
  if (view.plan?.steps.some((step) => !behind(view, step))) return 'steps';
  if (view.plan) return 'handover';
  return withoutPlan(view);
}

function withoutPlan(view: JobView): Screen {
  if (view.pipes.length === 0) return 'pipe';
  if (view.released) return view.cut && !view.marked ? 'after' : 'handover';
  if (view.squeezed && view.bars.length > 0) return 'open';
  if (view.squeezed && !view.cut) return view.readings.length > 0 ? 'cut' : 'watch';
  if (view.squeezed) return view.tested ? (view.purged ? 'open' : 'purge') : 'test';
  return view.bars.length > 0 ? 'close' : 'verdict';
}
