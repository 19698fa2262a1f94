import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect } from 'vitest';

/**
 * Compares `text` with the file `golden/<name>` beside the tests of reports. `UPDATE_GOLDEN=1`
 * writes the file instead, except where `CI` is set; a missing file fails.
 */
export function expectGolden(name: string, text: string): void {
  const file = fileURLToPath(new URL(`golden/${name}`, import.meta.url));
  if (process.env['UPDATE_GOLDEN'] === '1') {
    if (process.env['CI'] !== undefined) throw new Error('golden files are not rewritten under CI');
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, text);
    return;
  }
  if (!existsSync(file)) throw new Error(`no golden file ${name}; UPDATE_GOLDEN=1 writes it`);
  expect(text).toBe(readFileSync(file, 'utf8'));
}
