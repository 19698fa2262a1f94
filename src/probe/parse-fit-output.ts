import { type Framed, framesOf, noMarks, sectionKey } from '../collect/unix/frames.ts';
import { systemKindOf } from '../collect/unix/node-reading.ts';
import { mtuNumber, wholeNumber } from '../collect/unix/text.ts';
import { cleanText } from '../facts/clean-text.ts';
import type { Trouble } from '../facts/trouble.ts';
import { pingHeaderBytes, sortedSizes } from './fit-script.ts';
import type { Fit, FitOutcome, FitRequest, FitVerdict, SizeFit } from './fit-types.ts';
import { parsePing } from './ping-output.ts';

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
  if (system === undefined || system === 'freebsd')
    return { ok: false, trouble: unknownSystem(framed) };
  const header = pingHeaderBytes(request.toAddress);
  const learntMtuBytes = learntOf(framed);
  let stopped = false;
  const sizes = sortedSizes(request.sizesBytes).map((sizeBytes): SizeFit => {
    const payloadBytes = sizeBytes - header;
    const section = framed.sections.get(sectionKey('ping', String(payloadBytes)));
    if (section === undefined) return { sizeBytes, verdict: unsent(stopped) };
    const setting = { system, payloadBytes };
    const verdict = parsePing(
      section,
      learntMtuBytes === undefined ? setting : { ...setting, learntMtuBytes },
    );
    stopped ||= section.status !== 0;
    return { sizeBytes, verdict };
  });
  return { ok: true, fit: fitOf(request.toAddress, sizes) };
}

/** The verdict on a size that was not tried, or of which the answer did not come. */
export function unsent(stopped: boolean): FitVerdict {
  const words = stopped
    ? 'not sent, because a smaller size did not come back'
    : 'the answer ended before this size';
  return { kind: 'cannot-tell', words };
}

/** The verdicts together. Silence from the smallest size on says nothing of size: all pings may be filtered. */
export function fitOf(toAddress: string, sizes: readonly SizeFit[]): Fit {
  const passed = sizes.filter(({ verdict }) => verdict.kind === 'passes');
  const proven = passed.at(-1)?.sizeBytes;
  const judged = sizes.map(({ sizeBytes, verdict }): SizeFit => {
    if (verdict.kind !== 'silent' || passed.some((size) => size.sizeBytes < sizeBytes)) {
      return { sizeBytes, verdict };
    }
    const words = 'no reply to the smallest size either: the far end is off, or pings are filtered';
    return { sizeBytes, verdict: { kind: 'cannot-tell', words } };
  });
  return {
    toAddress,
    sizes: judged,
    ...(proven === undefined ? {} : { provenBytes: proven }),
  };
}

/** The path MTU that the kernel learnt and will forget again, so not one of the interface. */
function learntOf(framed: Framed): number | undefined {
  const route = framed.sections.get(sectionKey('route'))?.output.replace(/\s+/g, ' ') ?? '';
  return mtuNumber(wholeNumber(/ expires \d+sec mtu (\d+)(?= |$)/.exec(route)?.[1]));
}

function unknownSystem(framed: Framed): Trouble {
  if (!framed.whole) {
    return {
      kind: 'truncated',
      seen: 'the answer ended before the first packet',
      remedy: 'run it again; raise the time limit if the node is slow',
    };
  }
  const said = framed.sections.get(sectionKey('system'))?.output ?? '';
  return {
    kind: 'system-unknown',
    seen: `uname -s says "${cleanText(said, 120)}"`,
    remedy: 'run the fit from the other end, on linux or macos',
  };
}
