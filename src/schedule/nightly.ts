/** An audit that is to run each night. */
export interface Nightly {
  /** Absolute command that starts hopgauge. */
  readonly program: readonly string[];
  /** Absolute path of the intent file. */
  readonly intent: string;
  /** Local time of day. */
  readonly hour: number;
  readonly minute: number;
  /** Account that it runs as; absent: the one whose table of jobs it is put into. */
  readonly user?: string;
  /** As `--deadline` takes it. */
  readonly deadline: string;
  readonly deadlineSeconds: number;
}

/** Up to how long the audit waits before it begins, as `--spread` takes it. */
export const spread = '10m';
/** Within which an audit must have been complete: a day, the spread, and time to read. */
export const completeWithin = '26h';
/** The watch looks so many hours after the audit, when somebody may be there. */
const watchHoursAfter = 6;

/** Hour of the watch over the audit, 0 to 23. */
export function watchHour({ hour }: Nightly): number {
  return (hour + watchHoursAfter) % 24;
}

/** Two digits. */
export function twoDigits(count: number): string {
  return String(count).padStart(2, '0');
}
