import {
  averageRttMs,
  bufferDelayPercent,
  idealTransferSeconds,
  type TransmittedBytes,
  tcpEfficiencyPercent,
  transferTimeRatio,
} from './tcp-metrics.ts';

/** What the three metrics of RFC 6349 are reckoned from. */
export interface MetricsGiven {
  readonly bytes: number;
  readonly tookSeconds: number;
  /** Mb/s of user data that the line allows; absent: not known. */
  readonly ceilingMbps?: number | undefined;
  readonly transmitted?: TransmittedBytes | undefined;
  readonly idleMs?: number | undefined;
  /** Round trip under load, one a second. */
  readonly loadedMs: readonly number[];
}

/** The three metrics; each is absent where what it needs is not known. */
export interface TransferMetrics {
  readonly idealSeconds?: number;
  /** RFC 6349 4.1.2; 1 is ideal. */
  readonly timeRatio?: number;
  /** RFC 6349 4.2. */
  readonly efficiencyPercent?: number;
  readonly averageRttMs?: number;
  /** RFC 6349 4.3. */
  readonly bufferDelayPercent?: number;
}

/** Reckons the three metrics of a transfer (RFC 6349 section 4). */
export function transferMetrics(given: MetricsGiven): TransferMetrics {
  const { bytes, tookSeconds, ceilingMbps, transmitted, idleMs, loadedMs } = given;
  const idealSeconds =
    ceilingMbps === undefined || ceilingMbps <= 0
      ? undefined
      : idealTransferSeconds(bytes, ceilingMbps);
  const timeRatio =
    idealSeconds === undefined ? undefined : transferTimeRatio(tookSeconds, idealSeconds);
  const efficiency = transmitted === undefined ? undefined : tcpEfficiencyPercent(transmitted);
  const average = averageRttMs(loadedMs);
  const delay =
    average === undefined || idleMs === undefined ? undefined : bufferDelayPercent(average, idleMs);
  return {
    ...(idealSeconds === undefined ? {} : { idealSeconds }),
    ...(timeRatio === undefined ? {} : { timeRatio }),
    ...(efficiency === undefined ? {} : { efficiencyPercent: efficiency }),
    ...(average === undefined ? {} : { averageRttMs: average }),
    ...(delay === undefined ? {} : { bufferDelayPercent: delay }),
  };
}
