import { exitStatuses } from '../report/exit-status.ts';
import { RunFault } from './run-fault.ts';

const unitsMs: Readonly<Record<string, number>> = {
  s: 1000,
  m: 60_000,
  h: 3_600_000,
  d: 86_400_000,
};

/** An age such as `90s`, `30m`, `26h` or `14d` in ms; ends the run where `text` is none. */
export function ageMs(option: string, text: string): number {
  const [, count, unit] = /^([1-9][0-9]{0,4})([smhd])$/.exec(text) ?? [];
  const ms = unitsMs[unit ?? ''];
  if (count === undefined || ms === undefined) {
    throw new RunFault(exitStatuses.usage, [
      `${option}: '${text.slice(0, 40)}' is no age; write 90s, 30m, 26h or 14d`,
    ]);
  }
  return Number(count) * ms;
}

/** The time that `--since` means, ISO 8601: a date, or an age before now. */
export function sinceTime(text: string, nowMs: number): string {
  if (/^\d{4}-\d{2}-\d{2}$/.test(text) && !Number.isNaN(Date.parse(text))) return text;
  return new Date(nowMs - ageMs('--since', text)).toISOString();
}
