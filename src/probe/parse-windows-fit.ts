import { isIP } from 'node:net';
import { framesOf, noMarks, sectionsOf } from '../collect/unix/frames.ts';
import { textOf } from '../collect/unix/json-values.ts';
import { isGap } from '../collect/unix/linux-evidence.ts';
import { isLiteralAddress } from '../collect/unix/literal.ts';
import { plainText } from '../collect/windows/plain-text.ts';
import { type Row, rowsOf } from '../collect/windows/rows.ts';
import { cleanText } from '../facts/clean-text.ts';
import type { FitOutcome, FitRequest, FitVerdict } from './fit-types.ts';
import { fitOf, type PingTry } from './judge-sizes.ts';

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
  const source = rowsOf(framed, 'source');
  const own = isGap(source) ? undefined : textOf(source[0]?.['from']);
  const tries = sectionsOf(framed, 'ping').flatMap(({ about }): readonly PingTry[] => {
    const digits = /^(\d{1,5})\.\d$/.exec(about)?.[1];
    if (digits === undefined) return [];
    const rows = rowsOf(framed, 'ping', { about });
    const verdict = isGap(rows) ? cannotTell(rows.words) : verdictOf(rows, request, own);
    return [{ payloadBytes: Number.parseInt(digits, 10), verdict }];
  });
  return { ok: true, fit: fitOf(request, tries, { own: {}, cut: !framed.whole }) };
}

function verdictOf(
  rows: readonly Row[],
  { toAddress }: FitRequest,
  own: string | undefined,
): FitVerdict {
  // The sender itself cuts a large packet of IPv6 into fragments, whatever it is asked (from memory).
  if (isIP(toAddress) === 6)
    return cannotTell('Windows fragments a large ping over IPv6 by itself');
  const [row] = rows;
  const status = row?.['status'];
  if (status === ipStatus.success) return { kind: 'passes' };
  if (status === ipStatus.timedOut) return { kind: 'silent' };
  if (status === ipStatus.packetTooBig) return tooBigVerdict(textOf(row?.['address']), own);
  return cannotTell(`ping gave status ${status ?? 'none'}`);
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
