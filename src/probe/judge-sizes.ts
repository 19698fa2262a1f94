import { pingHeaderBytes } from './fit-plan.ts';
import {
  type Fit,
  type FitRequest,
  type FitVerdict,
  type OwnWay,
  type SizeFit,
  triesPerSize,
} from './fit-types.ts';

/** What became of one packet of one payload. */
export interface PingTry {
  readonly payloadBytes: number;
  readonly verdict: FitVerdict;
}

/** What the tries of one answer are joined with. */
export interface Answered {
  readonly own: OwnWay;
  /** The answer ended before its end mark. */
  readonly cut: boolean;
  /** What is to be said of a size that was not sent, where the sender has a reason of its own. */
  readonly unsent?: (sizeBytes: number) => FitVerdict | undefined;
}

/** The tries together: a verdict for each size that was to be tried or was tried. */
export function fitOf(request: FitRequest, tries: readonly PingTry[], answered: Answered): Fit {
  const header = pingHeaderBytes(request.toAddress);
  const bySize = new Map<number, FitVerdict[]>();
  for (const sizeBytes of request.plan.risingBytes) bySize.set(sizeBytes, []);
  for (const { payloadBytes, verdict } of tries) {
    const sizeBytes = payloadBytes + header;
    bySize.set(sizeBytes, [...(bySize.get(sizeBytes) ?? []), verdict]);
  }
  const sizes = [...bySize]
    .sort(([a], [b]) => a - b)
    .map(([sizeBytes, verdicts]): SizeFit => {
      const verdict = joined(verdicts) ?? answered.unsent?.(sizeBytes) ?? notSent(tries, answered);
      return { sizeBytes, verdict, tries: verdicts.length };
    });
  const proven = sizes.findLast(({ verdict }) => verdict.kind === 'passes')?.sizeBytes;
  return {
    toAddress: request.toAddress,
    own: answered.own,
    sizes: sizes.map((size) => soberly(size, proven)),
    ...(proven === undefined ? {} : { provenBytes: proven }),
  };
}

/** One reply is enough; a word of the host or a router next; silence only if it lasted. */
function joined(verdicts: readonly FitVerdict[]): FitVerdict | undefined {
  const of = (kind: FitVerdict['kind']) => verdicts.find((verdict) => verdict.kind === kind);
  const told = verdicts.find(({ kind }) => kind !== 'silent' && kind !== 'cannot-tell');
  const said = of('passes') ?? told ?? of('cannot-tell');
  if (said !== undefined || verdicts.length === 0) return said;
  if (verdicts.length >= triesPerSize) return { kind: 'silent' };
  const words = `no reply to ${verdicts.length} of ${triesPerSize} tries, and no more were sent`;
  return { kind: 'cannot-tell', words };
}

function notSent(tries: readonly PingTry[], { cut }: Answered): FitVerdict {
  const stopped = tries.some(({ verdict }) => verdict.kind !== 'passes');
  const words =
    stopped && !cut
      ? 'not sent, because a smaller size did not come back'
      : 'the answer ended before this size';
  return { kind: 'cannot-tell', words };
}

/** Silence from the smallest size on says nothing of size: all pings may be filtered. */
function soberly(size: SizeFit, provenBytes: number | undefined): SizeFit {
  if (size.verdict.kind !== 'silent') return size;
  if (provenBytes === undefined) {
    const words = 'no reply to the smallest size either: the far end is off, or pings are filtered';
    return { ...size, verdict: { kind: 'cannot-tell', words } };
  }
  if (provenBytes < size.sizeBytes) return size;
  const words = `no reply, while ${provenBytes} bytes came back: packets are lost for another reason than size`;
  return { ...size, verdict: { kind: 'cannot-tell', words } };
}
