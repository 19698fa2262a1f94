import type { Section } from '../collect/unix/frames.ts';
import { isLiteralAddress } from '../collect/unix/literal.ts';
import { mtuNumber, textLines, wholeNumber } from '../collect/unix/text.ts';
import { cleanText } from '../facts/clean-text.ts';
import { macosPayloadBytesMax } from './fit-script.ts';
import type { FitVerdict, OwnWay } from './fit-types.ts';

/** What the system of the sender is, and what it says of its own way. */
export interface PingSetting {
  readonly system: 'linux' | 'macos' | 'freebsd';
  /** IP packet of the ping, and the payload of it, in bytes. */
  readonly sizeBytes: number;
  readonly payloadBytes: number;
  readonly own: OwnWay;
}

const routerLine =
  /^From ([0-9A-Fa-f.:]+):? icmp_seq=\d+ (?:Frag(?:mentation)? needed and DF set \(mtu = (\d+)\)|Packet too big: mtu[=:] ?(\d+))/;
const bsdRouterLine =
  /^(?:\d+ bytes from ([0-9A-Fa-f.:]+): )?(?:frag needed and DF set|packet too big).*?\(?MTU:? ?=? ?(\d+)\)?/i;

/** Reads what one ping of one packet printed. `silent` means: no answer and no error. */
export function parsePing(section: Section, setting: PingSetting): FitVerdict {
  const lines = textLines(`${section.output}\n${section.words}`);
  if (hasReply(lines)) return { kind: 'passes' };
  return (
    routerVerdict(lines) ??
    ownVerdict(lines, setting) ??
    silence(section, setting) ?? { kind: 'cannot-tell', words: wordsOf(section) }
  );
}

/** Whether the ping knows no option that forbids to cut its packet in pieces, as that of BusyBox. */
export function cannotForbidPieces({ words }: Section): boolean {
  return /(?:invalid|unrecognized) option/.test(words);
}

/** A reply, and not the lines of a router that also say how many bytes it sent. */
function hasReply(lines: readonly string[]): boolean {
  return lines.some((line) =>
    /^\d+ bytes from [0-9A-Fa-f.:%\w]+[:,] icmp_seq=\d+ .*(?:ttl|hlim)=\d+ /.test(line),
  );
}

function routerVerdict(lines: readonly string[]): FitVerdict | undefined {
  for (const line of lines) {
    const match = routerLine.exec(line) ?? bsdRouterLine.exec(line);
    if (match === null) continue;
    const address = (match[1] ?? '').replace(/:$/, '');
    const mtuBytes = mtuNumber(wholeNumber(match[2] ?? match[3]));
    return {
      kind: 'router-said',
      words: cleanText(line),
      ...(isLiteralAddress(address) ? { address } : {}),
      ...(mtuBytes === undefined ? {} : { mtuBytes }),
    };
  }
  return undefined;
}

function ownVerdict(lines: readonly string[], setting: PingSetting): FitVerdict | undefined {
  const line = lines.find((text) => /message too long/i.test(text));
  if (line === undefined) return undefined;
  if (setting.system === 'macos' && setting.payloadBytes > macosPayloadBytesMax) {
    return macosLimit();
  }
  const told = mtuNumber(wholeNumber(/\bmtu[=:] ?(\d+)/i.exec(line)?.[1]));
  return whoRefuses(cleanText(line), told, setting);
}

/** The sender refuses: for what a router told it before, for its route, or for its interface. */
function whoRefuses(
  words: string,
  told: number | undefined,
  { sizeBytes, own }: PingSetting,
): FitVerdict {
  const { interfaceMtuBytes: port, routeMtuBytes: route, learntMtuBytes: learnt, device } = own;
  const matches = (mtu: number | undefined): mtu is number =>
    mtu !== undefined && mtu < sizeBytes && (told === undefined || told === mtu);
  if (matches(learnt)) return { kind: 'router-said', words, mtuBytes: learnt };
  if (matches(route) && port !== undefined && route < port) {
    return { kind: 'route-small', mtuBytes: route, words };
  }
  const mtuBytes = told ?? (port !== undefined && port < sizeBytes ? port : undefined);
  return {
    kind: 'own-interface-small',
    words,
    ...(device === undefined ? {} : { device }),
    ...(mtuBytes === undefined ? {} : { mtuBytes }),
  };
}

/** Words for a size that macOS lets nobody but root send. */
export function macosLimit(): FitVerdict {
  const words = `cannot tell from this end: macos limits a ping to ${macosPayloadBytesMax} bytes`;
  return { kind: 'cannot-tell', words };
}

/**
 * Silence only where the ping itself counts packets sent and none received. A queue that stays full
 * is silence too: iputils tries again for a second before it says so, and it says nothing of why.
 */
function silence(section: Section, { system }: PingSetting): FitVerdict | undefined {
  const nobody = system === 'linux' ? 1 : 2;
  const counted = /^\d+ packets transmitted, 0 (?:packets )?received,(.*)$/m.exec(section.output);
  if (section.status !== nobody || counted === null) return undefined;
  const quiet = section.words === '' || /^ping: sendmsg: No buffer space\b.*$/.test(section.words);
  return quiet && !/errors/.test(counted[1] ?? '') ? { kind: 'silent' } : undefined;
}

function wordsOf(section: Section): string {
  const said = section.words === '' ? section.output : section.words;
  const line = textLines(said).find((text) => !/^PING6?[ (]/.test(text)) ?? '';
  return cleanText(line) || `ping ended with status ${section.status} and no words`;
}
