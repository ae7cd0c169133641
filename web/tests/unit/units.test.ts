import { expect, test } from 'vitest';

import { clock, gap, gauge, oil, reach, temperature } from '../../shared/units';

const psi = 6894.757293168361; // lbf/in2 in Pa, from the exact pound, inch and standard gravity

test('a gap has at most five characters and the side it is given', () => {
  expect(gap(0.0254 * 0.5474, 'us', 'up').figure).toBe('0.548');
  expect(gap(0.0254 * 0.5474, 'us', 'down').figure).toBe('0.547');
  expect(gap(0.0254 * 0.55, 'us', 'down').figure).toBe('0.550');
  expect(gap(0.0254 * 0.55, 'metric', 'nearest').figure).toBe('13.97');
  expect(gap(0.0254 * 12.75, 'us', 'up').figure).toBe('12.75');
  for (let metres = 0; metres < 0.5; metres += 0.00137)
    for (const units of ['us', 'metric'] as const)
      expect(gap(metres, units, 'up').figure.length).toBeLessThanOrEqual(5);
});

test('gauge pressures carry their g', () => {
  expect(gauge(58 * psi, 'us', 'nearest')).toEqual({ figure: '58.0', unit: 'psig' });
  expect(oil(0, 'us', 'up')).toEqual({ figure: '0', unit: 'psig' });
  expect(oil(2661.2 * psi, 'us', 'down').figure).toBe('2661');
  expect(gauge(1743.6, 'us', 'nearest')).toEqual({ figure: '7.00', unit: 'inWC(g)' });
  expect(gauge(7500, 'metric', 'nearest')).toEqual({ figure: '75.0', unit: 'mbar(g)' });
  expect(gauge(4e5, 'metric', 'nearest')).toEqual({ figure: '4.000', unit: 'bar(g)' });
});

test('times, lengths, temperatures', () => {
  expect(clock(118.56, 'up')).toBe('1:59');
  expect(clock(3599.5, 'up')).toBe('1h00');
  expect(clock(7840.9, 'up')).toBe('2h11');
  expect(clock(-3, 'down')).toBe('0:00');
  expect(reach(2.1336, 'us', 'down').figure).toBe('84.0');
  expect(temperature(288.15, 'metric')).toEqual({ figure: '15', unit: '°C' });
});
