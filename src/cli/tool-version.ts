import { readFileSync } from 'node:fs';
import { parseJson } from '../facts/json.ts';

/** Version of hopgauge, as its package says. */
export function toolVersion(): string {
  const text = readFileSync(new URL('../../package.json', import.meta.url), 'utf8');
  const parsed = parseJson(text);
  const version =
    typeof parsed === 'object' && parsed !== null && 'version' in parsed ? parsed.version : '';
  return typeof version === 'string' ? version : '';
}
