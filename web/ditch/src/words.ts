// Words from the message file.
import { en } from './messages/en';

export type Word = keyof typeof en;

export function t(word: Word, put: Record<string, string | number> = {}): string {
  return (en[word] as string).replace(/\{(\w+)\}/g, (whole, name: string) => String(put[name] ?? whole));
}
