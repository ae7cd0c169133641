// When two replies are alike: the same rule as in alike.cpp.
const relative = 1e-9;
const aboutZero = 1e-12; // in SI

function close(a, b) {
  const apart = Math.abs(a - b);
  return apart <= aboutZero || apart <= relative * Math.max(Math.abs(a), Math.abs(b));
}

const isObject = (value) => typeof value === 'object' && value !== null && !Array.isArray(value);

/** Every place where `got` is not what was `wanted`. */
export function differences(wanted, got, path = '') {
  const stem = path === '' ? '' : `${path}.`;
  if (isObject(wanted) && isObject(got)) {
    const keys = new Set([...Object.keys(wanted), ...Object.keys(got)]);
    return [...keys].flatMap((key) => {
      if (!(key in got)) return [`${stem}${key}: missing`];
      if (!(key in wanted)) return [`${stem}${key}: not wanted`];
      return differences(wanted[key], got[key], stem + key);
    });
  }
  const place = path === '' ? 'document' : path;
  if (Array.isArray(wanted) && Array.isArray(got)) {
    if (wanted.length !== got.length) return [`${place}: wanted ${wanted.length} entries, got ${got.length}`];
    return wanted.flatMap((value, i) => differences(value, got[i], `${path}[${i}]`));
  }
  const bothNumbers = typeof wanted === 'number' && typeof got === 'number';
  if (bothNumbers ? close(wanted, got) : wanted === got) return [];
  return [`${place}: wanted ${JSON.stringify(wanted)}, got ${JSON.stringify(got)}`];
}
