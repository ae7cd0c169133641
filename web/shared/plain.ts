// The engine's sentences name flags of the terminal beside what is to be done. A phone has none.

/** "measure the pipe's surface: --pipe-temperature; decide: …" without the flag. */
export function plain(says: string): string {
  return says.replace(/ \(--[^)]*\)/g, '').split('; ').map((part) => part.replace(/:? ?--[a-z].*$/, '')).filter(Boolean).join('; ');
}
