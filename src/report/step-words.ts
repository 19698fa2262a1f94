import { noPort } from '../change/cords.ts';
import type { ChangeStep } from '../change/types.ts';
import type { FactValue } from '../facts/entry.ts';

/** What a step sets, in words, and what it does to what runs over the port. */
export function stepWords(step: ChangeStep): string {
  const isWhole = step.port === undefined && step.disturbs === 'link-bounce';
  return `${settingWords(step)}${isWhole ? '; its links go down for a moment' : disturbWords[step.disturbs]}`;
}

const disturbWords = {
  nothing: '',
  'link-bounce': '; its link goes down for a moment',
  'node-reload': '; the node restarts',
  'node-out': '; all its links are down meanwhile',
  'link-moved': '',
} as const;

function settingWords({ setting, from, to }: ChangeStep): string {
  if (setting === 'link') return cordWords(from, to);
  if (setting === 'node') return `replaced by ${String(to)}`;
  const was = from === undefined ? '' : ` ${stepValueWords(setting, from)}`;
  return `${setting}${was} to ${stepValueWords(setting, to)}`;
}

function cordWords(from: FactValue | undefined, to: FactValue): string {
  if (to === noPort) return `cord from ${String(from)} taken away`;
  if (from === noPort) return `the cord that was taken out laid to ${String(to)}`;
  return from === undefined
    ? `a new cord to ${String(to)}`
    : `cord moved from ${String(from)} to ${String(to)}`;
}

/** What a step sets a port to, in words. */
export function stepValueWords(setting: ChangeStep['setting'], value: FactValue): string {
  if (typeof value === 'boolean') return value ? 'on' : 'off';
  return setting === 'speed' ? `${String(value)} Mb/s` : String(value);
}
