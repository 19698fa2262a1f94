import { exitStatuses } from '../report/exit-status.ts';
import { clean } from '../report/layout.ts';
import { RunFault } from './run-fault.ts';

const unitsMs: Readonly<Record<string, number>> = {
  s: 1000,
  m: 60_000,
  h: 3_600_000,
  d: 86_400_000,
};

/**
 * An age such as `90s`, `30m`, `26h` or `14d` in ms; ends the run where `text` is none. `forms`: those
 * that are then offered.
 */
export function ageMs(option: string, text: string, forms = '90s, 30m, 26h or 14d'): number {
  const ms = ageOf(text);
  if (ms === undefined) throw noAge(option, text, forms);
  return ms;
}

function ageOf(text: string): number | undefined {
  const [, count, unit] = /^([1-9][0-9]{0,4})([smhd])$/.exec(text) ?? [];
  const ms = unitsMs[unit ?? ''];
  return count === undefined || ms === undefined ? undefined : Number(count) * ms;
}

function noAge(option: string, text: string, forms: string): RunFault {
  const seen = clean(text.slice(0, 40));
  return new RunFault(exitStatuses.usage, [`${option}: '${seen}' is no age; write ${forms}`]);
}

/** The time that `--since` means, ISO 8601: a date, or an age before now. */
export function sinceTime(text: string, nowMs: number): string {
  if (/^\d{4}-\d{2}-\d{2}$/.test(text) && !Number.isNaN(Date.parse(text))) return text;
  const ms = ageOf(text);
  if (ms === undefined)
    throw noAge('--since', text, '90s, 30m, 26h or 14d, or a date as 2026-11-01');
  return new Date(nowMs - ms).toISOString();
}
