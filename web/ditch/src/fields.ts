// How each field is entered. Lists are only what is near at hand: anything else is typed, and the engine reads it.
import type { Units } from '../../shared/units';
import type { Word } from './words';

export interface Field {
  key: string;
  label: Word;
  choices?: Record<Units, string[]>;
  units?: Record<Units, string[]>;
  /** Entered with the phone's own keyboard. */
  text?: boolean;
  /** Where the messages of its choices begin. */
  words?: string;
  /** May be below nought. */
  below?: boolean;
}

const same = (list: string[]): Record<Units, string[]> => ({ us: list, metric: list });
const pressures = { us: ['psig', 'inWC'], metric: ['bar(g)', 'mbar(g)', 'kPa(g)'] };
const lengths = { us: ['in', 'ft'], metric: ['mm', 'm'] };
const longs = { us: ['ft', 'in'], metric: ['m', 'mm'] };
const flows = { us: ['scfh'], metric: ['std m3/h'] };

const temperatures = { us: ['degF'], metric: ['degC'] };
const bores = { us: ['in'], metric: ['mm'] };

/** Sizes, ratios and materials to choose from come from the engine. */
export const pipeFields: Field[] = [
  { key: 'print_line', label: 'field.print_line', text: true },
  { key: 'size', label: 'field.size', text: true },
  { key: 'dr', label: 'field.dr', units: same(['']) },
  { key: 'wall', label: 'field.wall', units: bores },
  { key: 'material', label: 'field.material', text: true },
  { key: 'year', label: 'field.year', units: same(['']) },
  { key: 'pressure', label: 'field.pressure', units: pressures },
  { key: 'pipe_temperature', label: 'field.pipe_temperature', units: temperatures, below: true },
  { key: 'plain', label: 'field.plain', choices: same(['no', 'unknown', 'yes']), words: 'choice.plain' },
  { key: 'tool', label: 'field.tool' },
  { key: 'exposed', label: 'field.exposed', units: lengths },
  { key: 'joint', label: 'field.joint', units: lengths },
];

const volume: Field = { key: 'volume', label: 'field.volume', units: { us: ['ft3'], metric: ['m3', 'L'] } };
const step: Field = { key: 'gauge_step', label: 'field.gauge_step', units: { us: ['psi', 'inWC'], metric: ['mbar', 'bar'] } };
const draws: Field[] = [
  { key: 'draw_low', label: 'field.draw_low', units: flows },
  { key: 'draw_high', label: 'field.draw_high', units: flows },
];

export const reading: Field = { key: 'reading', label: 'field.reading', units: pressures };

export const watchFields: Record<string, Field[]> = {
  shut_off_tight: [volume, { key: 'let_by', label: 'field.let_by', units: flows }, step],
  fed_elsewhere: [volume, ...draws, step],
  all_meters_shut: [volume, ...draws, step],
};

const stack: Field[] = [
  { key: 'stack_bore', label: 'field.stack_bore', units: bores },
  { key: 'stack_length', label: 'field.stack_length', units: longs },
  { key: 'stack_height', label: 'field.stack_height', units: longs },
];

export const ventFields: Field[] = [volume, { key: 'pressure', label: 'field.pressure', units: pressures }, ...stack];

export const testFields: Field[] = [
  volume,
  { key: 'mop', label: 'field.mop', units: pressures },
  { key: 'ends', label: 'field.ends', choices: same(['cap', 'blank', 'valve', 'squeeze']), words: 'choice.ends' },
  { key: 'start', label: 'field.start', units: pressures },
  { key: 'start_temperature', label: 'field.start_temperature', units: temperatures, below: true },
  { key: 'end', label: 'field.end', units: pressures },
  { key: 'end_temperature', label: 'field.end_temperature', units: temperatures, below: true },
  { key: 'duration', label: 'field.duration', units: same(['min', 'h']) },
  { key: 'instrument', label: 'field.instrument', text: true },
];

export const purgeFields: Field[] = [
  { key: 'bore', label: 'field.bore', units: bores },
  { key: 'length', label: 'field.length', units: { us: ['ft'], metric: ['m'] } },
  stack[0]!,
  stack[2]!,
  { key: 'line_pressure', label: 'field.line_pressure', units: pressures },
  { key: 'reading_1', label: 'field.reading_1', units: same(['%gas']) },
  { key: 'reading_2', label: 'field.reading_2', units: same(['%gas']) },
  { key: 'detector', label: 'field.instrument', text: true },
];

const areas = { us: ['in2'], metric: ['cm2', 'mm2'] };

export const fuseFields: Field[] = [
  { key: 'kind', label: 'field.fusion', choices: same(['butt', 'electrofusion', 'mechanical']), words: 'choice.fusion' },
  { key: 'other_material', label: 'field.other_material', text: true },
  { key: 'piston', label: 'field.piston', units: areas },
  { key: 'drag', label: 'field.drag', units: { us: ['psi'], metric: ['bar'] } },
  { key: 'heater', label: 'field.heater', units: temperatures },
  { key: 'ambient', label: 'field.air', units: temperatures, below: true },
];

const technicians: Field = { key: 'technicians', label: 'field.technicians', units: same(['']) };
export const orderFields: Field[] = [technicians, { key: 'rate', label: 'field.rate', units: same(['']) }];
export const clockFields: Field[] = [{ key: 'crews', label: 'field.crews', units: same(['']) }, technicians];

export const leftFields: Field[] = [
  { key: 'temperature', label: 'field.air', units: temperatures, below: true },
  { key: 'hour', label: 'field.hour', units: same(['']) },
];

export const laidFields: Field[] = [
  { key: 'from_1', label: 'field.from_1', text: true },
  { key: 'tape_1', label: 'field.tape_1', units: longs },
  { key: 'from_2', label: 'field.from_2', text: true },
  { key: 'tape_2', label: 'field.tape_2', units: longs },
  { key: 'depth', label: 'field.depth', units: longs },
];

/** Names are ids of the register: nobody's name is in a log. */
export const nameFields: Field[] = [
  { key: 'own', label: 'name.own', text: true },
  { key: 'second', label: 'name.second', text: true },
  { key: 'reason', label: 'name.reason', text: true },
];
export const codeField: Field = { key: 'code', label: 'radio.code', text: true };
export const pumpField: Field = { key: 'pump', label: 'pump.field', units: { us: ['psig'], metric: ['bar(g)'] } };
