import { readFileSync } from 'node:fs';
import { join } from 'node:path';

/** A recorded output without its header, the lines in front that begin with `#!`. */
export function recorded(name: string): string {
  const text = readFileSync(join(import.meta.dirname, name), 'utf8');
  const lines = text.split('\n');
  const start = lines.findIndex((line) => !line.startsWith('#!'));
  if (start < 1) throw new Error(`${name} has no header`);
  return lines.slice(start).join('\n').replace(/\n$/, '');
}
