import { isIP } from 'node:net';
import {
  type Framed,
  framesOf,
  noMarks,
  type Section,
  sectionsOf,
} from '../collect/unix/frames.ts';
import { systemKindOf } from '../collect/unix/node-reading.ts';
import { cleanText } from '../facts/clean-text.ts';
import type { Trouble } from '../facts/trouble.ts';
import { pingHeaderBytes } from './fit-plan.ts';
import { macosPayloadBytesMax } from './fit-script.ts';
import type { FitOutcome, FitRequest, FitVerdict, OwnWay } from './fit-types.ts';
import { fitOf, type PingTry } from './judge-sizes.ts';
import { ownWayOf } from './own-way.ts';
import { cannotForbidPieces, macosLimit, parsePing } from './ping-output.ts';

const shellRemedy =
  'give the account a login shell that runs `sh -s`; a forced command cannot do a fit';

/** Reads what the script of `fitScript` printed. Never throws for what the host printed. */
export function parseFitOutput(
  output: Uint8Array,
  request: FitRequest & { readonly marker: string },
): FitOutcome {
  const framed = framesOf(output, request.marker);
  if (!framed.begun) return { ok: false, trouble: noMarks(framed, shellRemedy) };
  const system = systemKindOf(framed);
  if (system === undefined) return { ok: false, trouble: unknownSystem(framed) };
  const own = ownWayOf(framed, system);
  const pings = sectionsOf(framed, 'ping');
  const answered = { own, cut: !framed.whole };
  if (pings.some(cannotForbidPieces)) {
    return { ok: true, fit: fitOf(request, [], { ...answered, unsent: inPieces(own) }) };
  }
  const header = pingHeaderBytes(request.toAddress);
  const tries = pings.flatMap((section): readonly PingTry[] => {
    const payloadBytes = payloadOf(section);
    if (payloadBytes === undefined) return [];
    const setting = { system, payloadBytes, sizeBytes: payloadBytes + header, own };
    return [{ payloadBytes, verdict: parsePing(section, setting) }];
  });
  const limited = tries.some(
    ({ payloadBytes, verdict }) =>
      payloadBytes === macosPayloadBytesMax && verdict.kind === 'passes',
  );
  const unsent = (sizeBytes: number): FitVerdict | undefined => {
    if (system === 'freebsd' && isIP(request.toAddress) === 6) return freebsdOverIpv6;
    if (system !== 'macos' || !limited) return undefined;
    return sizeBytes - header > macosPayloadBytesMax ? macosLimit() : undefined;
  };
  return { ok: true, fit: fitOf(request, tries, { ...answered, unsent }) };
}

/** `ping 8972.1`: the payload, and which try it was. */
function payloadOf({ about }: Section): number | undefined {
  const digits = /^(\d{1,5})\.\d$/.exec(about)?.[1];
  return digits === undefined ? undefined : Number.parseInt(digits, 10);
}

/** What an end whose ping may be cut in pieces tells all the same: what its own port takes. */
function inPieces({ device, interfaceMtuBytes: port }: OwnWay): (size: number) => FitVerdict {
  return (sizeBytes) => {
    if (port !== undefined && port < sizeBytes) {
      const words = `the MTU of ${device ?? 'its port'} is ${port}`;
      const named = device === undefined ? {} : { device };
      return { kind: 'own-interface-small', ...named, mtuBytes: port, words };
    }
    const words =
      'cannot tell from this end: its ping cannot forbid that packets are cut in pieces';
    return { kind: 'cannot-tell', words };
  };
}

const freebsdOverIpv6: FitVerdict = {
  kind: 'cannot-tell',
  words: 'cannot tell from this end: the ping of FreeBSD forbids pieces over IPv4 only',
};

function unknownSystem(framed: Framed): Trouble {
  if (!framed.whole) {
    return {
      kind: 'truncated',
      seen: 'the answer ended before the first packet',
      remedy: 'run it again; raise the time limit if the node is slow',
    };
  }
  const said = framed.sections.get('system ')?.output ?? '';
  return {
    kind: 'system-unknown',
    seen: `uname -s says "${cleanText(said, 120)}"`,
    remedy: 'run the fit from the other end, on Linux, macOS, FreeBSD or Windows',
  };
}
