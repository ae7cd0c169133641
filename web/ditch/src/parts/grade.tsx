// A grade: its shape and its word, never a colour alone. The shapes are those of the paper sheets.
import { t, type Word } from '../words';

export type Grade = 'halt' | 'undecided' | 'warn' | 'info' | 'nothing_found';

const shapes: Record<Grade, { path: string; sign: string }> = {
  halt: { path: 'M14 2H34L46 14V34L34 46H14L2 34V14Z', sign: '!' },
  undecided: { path: 'M24 2L46 24L24 46L2 24Z', sign: '?' },
  warn: { path: 'M24 3L46 44H2Z', sign: '!' },
  info: { path: 'M24 3A21 21 0 1 1 23.9 3Z', sign: 'i' },
  nothing_found: { path: 'M24 3A21 21 0 1 1 23.9 3Z', sign: '' },
};

export function Sign({ grade }: { grade: Grade }) {
  const { path, sign } = shapes[grade];
  return (
    <svg class={`sign ${grade}`} viewBox="0 0 48 48" aria-hidden="true">
      <path d={path} />
      <text x="24" y={grade === 'warn' ? 39 : 34}>{sign}</text>
    </svg>
  );
}

export function GradeLine({ grade, large }: { grade: Grade; large?: boolean }) {
  return (
    <p class={large ? 'grade large' : 'grade'}>
      <Sign grade={grade} />
      <strong>{t(`grade.${grade}` as Word)}</strong>
    </p>
  );
}
