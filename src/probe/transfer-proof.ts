import type { TransferProof } from '../facts/proof.ts';
import type { TransferMeasured } from './transfer-measured.ts';

/** What a transfer has proven of one direction; undefined where it was not measured to its end. */
export function transferProof(
  { whole, tookSeconds, bytes, streams, goodputMbps, from, to }: TransferMeasured,
  { toAddress, at }: { readonly toAddress: string; readonly at: Date },
): TransferProof | undefined {
  if (!whole) return undefined;
  return {
    from: from.node,
    to: to.node,
    toAddress,
    at: at.toISOString(),
    ...{ tookSeconds, bytes, streams, goodputMbps },
  };
}
