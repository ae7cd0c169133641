// Numbers as a person reads them. The engine's replies are SI; this only writes them in the units that were chosen,
// with the rounding that the quantity's safe side asks for. Gauge pressures always carry their g.

export type Units = 'us' | 'metric';
export type Side = 'up' | 'down' | 'nearest';
export interface Shown {
  figure: string;
  unit: string;
}

const inch = 0.0254;
const psi = 6894.757293168361;
const inchOfWater = 249.08891;
const degrees = { us: (k: number) => (k - 273.15) * 1.8 + 32, metric: (k: number) => k - 273.15 };

const hair = 1e-9;
function rounded(value: number, places: number, side: Side): string {
  const scale = 10 ** places;
  const scaled = value * scale;
  // A value that only misses a figure by the last bits of a double is that figure.
  const near = Math.round(scaled);
  if (side === 'nearest' || Math.abs(scaled - near) <= hair * Math.max(1, Math.abs(scaled)))
    return (near / scale).toFixed(places);
  return ((side === 'up' ? Math.ceil(scaled) : Math.floor(scaled)) / scale).toFixed(places);
}

/** A gap or a small length, in at most five characters: 0.547, 12.75, 114.3. */
export function gap(metres: number, units: Units, side: Side): Shown {
  if (units === 'us') return { figure: rounded(metres / inch, metres / inch < 10 ? 3 : 2, side), unit: 'in' };
  return { figure: rounded(metres * 1000, metres < 0.0999 ? 2 : 1, side), unit: 'mm' };
}

/** A length along the pipe. */
export function reach(metres: number, units: Units, side: Side): Shown {
  return units === 'us'
    ? { figure: rounded(metres / inch, 1, side), unit: 'in' }
    : { figure: rounded(metres, 2, side), unit: 'm' };
}

export function gauge(pascal: number, units: Units, side: Side): Shown {
  if (units === 'metric')
    return Math.abs(pascal) < 20000
      ? { figure: rounded(pascal / 100, 1, side), unit: 'mbar(g)' }
      : { figure: rounded(pascal / 1e5, pascal < 1e7 ? 3 : 0, side), unit: 'bar(g)' };
  return Math.abs(pascal) < psi
    ? { figure: rounded(pascal / inchOfWater, 2, side), unit: 'inWC(g)' }
    : { figure: rounded(pascal / psi, pascal < 1e6 ? 1 : 0, side), unit: 'psig' };
}

/** The oil of a pump: whole psi or bar, also where it is nought. */
export function oil(pascal: number, units: Units, side: Side): Shown {
  return units === 'us' ? { figure: rounded(pascal / psi, 0, side), unit: 'psig' } : { figure: rounded(pascal / 1e5, 0, side), unit: 'bar(g)' };
}

export function temperature(kelvin: number, units: Units): Shown {
  return { figure: rounded(degrees[units](kelvin), 0, 'nearest'), unit: units === 'us' ? '°F' : '°C' };
}

/** Time as 4:05, or 1h05 from an hour on: at most five characters up to 99 hours. */
export function clock(seconds: number, side: Side): string {
  const whole = Number(rounded(Math.max(seconds, 0), 0, side));
  if (whole < 3600) return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
  const minutes = side === 'up' ? Math.ceil(whole / 60) : Math.floor(whole / 60);
  return `${Math.floor(minutes / 60)}h${String(minutes % 60).padStart(2, '0')}`;
}

export const says = ({ figure, unit }: Shown): string => `${figure} ${unit}`;
