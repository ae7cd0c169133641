// What every screen has at hand: the store, the engine, the units, and the job that is open.
import { createContext } from 'preact';
import { useContext } from 'preact/hooks';

import type { Engines, Request } from '../../worker/quick';
import type { SqueezeReply } from '../../shared/documents';
import type { Draft, Fact } from '../../shared/event';
import type { Store } from '../../shared/store';
import type { Units } from '../../shared/units';
import type { JobView, Screen } from './job';

/** What each screen was typed into. */
export type Section = 'pipe' | 'watch' | 'vent' | 'test' | 'purge' | 'left' | 'laid' | 'name' | 'fuse' | 'order' | 'clock';

/** What is typed and is not a fact yet. Kept, so that a killed page has it again. */
export interface Form extends Partial<Record<Section, Record<string, string>>> {
  pipe: Record<string, string>;
  watch: Record<string, string>;
  /** The pipe as the map has it, where a job came with one. */
  map?: Record<string, string>;
  /** Letter of the shut-off at which this phone is. */
  hole?: string;
}

/** The documents of a planned job, by their hash. */
export interface Files {
  plan: string;
  network: string;
}

/** The documents that questions name: the profile, and the tools of the company. */
export interface Company {
  procedure: string;
  profileTitle: string;
  toolsHash: string;
  toolsTitle: string;
  tools: { id: string; title: string }[];
}

export interface Phone {
  store: Store;
  engine: Engines;
  units: Units;
  job: string;
  view: JobView;
  form: Form;
  company: Company;
  files: Files;
  hole: string;
  /** The pipe as the plan or the map has it. */
  mapped: Fact | undefined;
  /** The answer for the pipe found last, and the one that it is held against. */
  sheet: SqueezeReply | undefined;
  before: SqueezeReply | undefined;
  now: number;
  tone: boolean;
  night: boolean;
  changeUnits: () => void;
  changeLook: () => void;
  setTone(on: boolean): void;
  record(draft: Draft): Promise<void>;
  reread(): Promise<void>;
  /** After another plan was put on the table. */
  reloadFiles(): Promise<void>;
  setForm(form: Form): void;
  show(screen: Screen): void;
  loadProfile(text: string, name: string): Promise<void>;
  loadTools(text: string, name: string): Promise<void>;
  loadNetwork(text: string, name: string): Promise<void>;
  setProcedure(procedure: string): void;
  leave(): void;
}

export const PhoneContext = createContext<Phone | undefined>(undefined);

export function usePhone(): Phone {
  const phone = useContext(PhoneContext);
  if (phone === undefined) throw new Error('a screen stands outside the phone');
  return phone;
}

/** The request for a sheet: what was found, and what this hole and this company add. */
export function squeezeRequest(pipe: Fact, form: Form, company: Company, units: Units): Request {
  const { tool, exposed, joint } = form.pipe;
  return {
    question: 'squeeze',
    ...pipe,
    units,
    procedure: company.procedure,
    ...(tool && company.toolsHash ? { tool: `${company.toolsHash}#${tool}` } : {}),
    ...(exposed ? { exposed: `0${exposed.replace(/^[\d.]+/, '')}:${exposed}` } : {}),
    ...(joint ? { features: `joint@${joint}` } : {}),
  };
}

const plain = ['inserted', 'cased', 'layered', 'lined'];

/** The fact from what was typed: only the keys that tell of the pipe. */
export function pipeFact(typed: Record<string, string>): Fact {
  const keys = ['size', 'material', 'year', 'pressure', 'pipe_temperature', 'wall'];
  const fact: Fact = Object.fromEntries(keys.filter((key) => typed[key]).map((key) => [key, typed[key]]));
  if (typed['dr']) fact['dr'] = Number(typed['dr']);
  if (typed['plain'] === 'no') for (const key of plain) fact[key] = 'no';
  return fact;
}
