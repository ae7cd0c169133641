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
}

const same = (list: string[]): Record<Units, string[]> => ({ us: list, metric: list });
const pressures = { us: ['psig', 'inWC'], metric: ['bar(g)', 'mbar(g)', 'kPa(g)'] };
const lengths = { us: ['in', 'ft'], metric: ['mm', 'm'] };
const flows = { us: ['scfh'], metric: ['std m3/h'] };

export const pipeFields: Field[] = [
  { key: 'print_line', label: 'field.print_line', text: true },
  {
    key: 'size', label: 'field.size', text: true,
    choices: {
      us: ['CTS 1/2', 'CTS 1', 'IPS 3/4', 'IPS 1', 'IPS 1 1/4', 'IPS 2', 'IPS 3', 'IPS 4', 'IPS 6', 'IPS 8', 'IPS 12'],
      metric: ['dn 20', 'dn 25', 'dn 32', 'dn 63', 'dn 75', 'dn 90', 'dn 110', 'dn 125', 'dn 180', 'dn 250'],
    },
  },
  { key: 'dr', label: 'field.dr', units: same(['']), choices: { us: ['7', '9', '9.3', '10', '11', '11.5', '13.5', '17'], metric: ['11', '13.6', '17', '17.6', '21', '26'] } },
  { key: 'wall', label: 'field.wall', units: { us: ['in'], metric: ['mm'] } },
  { key: 'material', label: 'field.material', text: true, choices: { us: ['PE2708', 'PE4710', 'PE2406', 'PE3408', 'PE3306'], metric: ['PE80', 'PE100'] } },
  { key: 'year', label: 'field.year', units: same(['']) },
  { key: 'pressure', label: 'field.pressure', units: pressures },
  { key: 'pipe_temperature', label: 'field.pipe_temperature', units: { us: ['degF'], metric: ['degC'] } },
  { key: 'plain', label: 'field.plain', choices: same(['no', 'unknown', 'yes']) },
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

