import { isIP } from 'node:net';
import { framesOf, noMarks } from '../collect/unix/frames.ts';
import { textOf } from '../collect/unix/json-values.ts';
import { isGap } from '../collect/unix/linux-evidence.ts';
import { isLiteralAddress } from '../collect/unix/literal.ts';
import { plainText } from '../collect/windows/plain-text.ts';
import { type Row, rowsOf } from '../collect/windows/rows.ts';
import { cleanText } from '../facts/clean-text.ts';
import { pingHeaderBytes, sortedSizes } from './fit-script.ts';
import type { FitOutcome, FitRequest, FitVerdict, SizeFit } from './fit-types.ts';
import { fitOf, unsent } from './parse-fit-output.ts';

/** Numbers of System.Net.NetworkInformation.IPStatus (published with .NET). */
const ipStatus = { success: 0, packetTooBig: 11_009, timedOut: 11_010 } as const;

const shellRemedy = 'let the account run powershell in its full language mode';

/** Reads what the script of `windowsFitScript` printed. Never throws for what the host printed. */
export function parseWindowsFit(
  output: Uint8Array,
  request: FitRequest & { readonly marker: string },
): FitOutcome {
  const framed = framesOf(plainText(output), request.marker);
  if (!framed.begun) return { ok: false, trouble: noMarks(framed, shellRemedy) };
  const header = pingHeaderBytes(request.toAddress);
  const source = rowsOf(framed, 'source');
  const own = isGap(source) ? undefined : textOf(source[0]?.['from']);
  let stopped = false;
  const sizes = sortedSizes(request.sizesBytes).map((sizeBytes): SizeFit => {
    const about = String(sizeBytes - header);
    const rows = rowsOf(framed, 'ping', { about });
    if (isGap(rows) && (rows.reason === 'truncated' || rows.reason === 'unasked')) {
      return { sizeBytes, verdict: unsent(stopped) };
    }
    const verdict = isGap(rows) ? cannotTell(rows.words) : verdictOf(rows, request, own);
    stopped ||= verdict.kind !== 'passes';
    return { sizeBytes, verdict };
  });
  return { ok: true, fit: fitOf(request.toAddress, sizes) };
}

function verdictOf(
  rows: readonly Row[],
  { toAddress }: FitRequest,
  own: string | undefined,
): FitVerdict {
  // The sender itself cuts a large packet of IPv6 into fragments, whatever it is asked (from memory).
  if (isIP(toAddress) === 6)
    return cannotTell('Windows fragments a large ping over IPv6 by itself');
  const statuses = rows.map((row) => row['status']);
  if (statuses.includes(ipStatus.success)) return { kind: 'passes' };
  const tooBig = rows.find((row) => row['status'] === ipStatus.packetTooBig);
  if (tooBig !== undefined) return tooBigVerdict(textOf(tooBig['address']), own);
  const silent = statuses.length > 0 && statuses.every((one) => one === ipStatus.timedOut);
  if (silent) return { kind: 'silent' };
  return cannotTell(`ping gave status ${statuses.join(' and ') || 'none'}`);
}

/** Whoever says so: this host, which leaves the address empty or names its own, or a router. */
function tooBigVerdict(said: string | undefined, own: string | undefined): FitVerdict {
  const words = `ping gave status PacketTooBig (${ipStatus.packetTooBig})`;
  const address =
    said !== undefined && isLiteralAddress(said) && said !== '0.0.0.0' ? said : undefined;
  if (address === undefined || address === own) return { kind: 'own-interface-small', words };
  if (own === undefined)
    return cannotTell(`${words}, and whether ${address} is its own is not known`);
  return { kind: 'router-said', address, words };
}

function cannotTell(words: string): FitVerdict {
  return { kind: 'cannot-tell', words: cleanText(words) };
}
