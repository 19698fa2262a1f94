import type { Section } from '../collect/unix/frames.ts';
import { isLiteralAddress } from '../collect/unix/literal.ts';
import { mtuNumber, textLines, wholeNumber } from '../collect/unix/text.ts';
import { cleanText } from '../facts/clean-text.ts';
import type { FitVerdict } from './fit-types.ts';

/** What the system of the sender is, and what it had learnt about the way. */
export interface PingSetting {
  readonly system: 'linux' | 'macos';
  /** Payload of the ping, in bytes. */
  readonly payloadBytes: number;
  /** Path MTU that a router told the sender earlier. */
  readonly learntMtuBytes?: number;
}

/** Largest payload that macOS lets anyone but root send (`net.inet.raw.maxdgram`, 8192). */
export const macosPayloadBytesMax = 8164;

const routerLine =
  /^From ([0-9A-Fa-f.:]+):? icmp_seq=\d+ (?:Frag(?:mentation)? needed and DF set \(mtu = (\d+)\)|Packet too big: mtu[=:] ?(\d+))/;
const macosRouterLine =
  /^(?:\d+ bytes from ([0-9A-Fa-f.:]+): )?(?:frag needed and DF set|packet too big).*?\(?MTU:? ?=? ?(\d+)\)?/i;

/** Reads what one ping of one size printed. `silent` means: no answer and no error. */
export function parsePing(section: Section, setting: PingSetting): FitVerdict {
  const lines = textLines(`${section.output}\n${section.words}`);
  if (hasReply(lines)) return { kind: 'passes' };
  return (
    routerVerdict(lines) ??
    ownVerdict(lines, setting) ??
    silence(section, setting) ?? { kind: 'cannot-tell', words: wordsOf(section) }
  );
}

/** A reply, and not the lines of a router that also say how many bytes it sent. */
function hasReply(lines: readonly string[]): boolean {
  return lines.some((line) =>
    /^\d+ bytes from [0-9A-Fa-f.:%\w]+[:,] icmp_seq=\d+ .*(?:ttl|hlim)=\d+ /.test(line),
  );
}

function routerVerdict(lines: readonly string[]): FitVerdict | undefined {
  for (const line of lines) {
    const match = routerLine.exec(line) ?? macosRouterLine.exec(line);
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
  const words = cleanText(line);
  if (setting.system === 'macos' && setting.payloadBytes > macosPayloadBytesMax) {
    return {
      kind: 'cannot-tell',
      words: `cannot tell from this end: macos limits a ping to ${macosPayloadBytesMax} bytes`,
    };
  }
  const mtuBytes = mtuNumber(wholeNumber(/\bmtu[=:] ?(\d+)/i.exec(line)?.[1]));
  const found = { words, ...(mtuBytes === undefined ? {} : { mtuBytes }) };
  const learnt = setting.learntMtuBytes;
  if (learnt !== undefined && learnt === mtuBytes) return { kind: 'router-said', ...found };
  return { kind: 'own-interface-small', ...found };
}

/** Silence only where the ping itself counts packets sent and none received. */
function silence(section: Section, setting: PingSetting): FitVerdict | undefined {
  const nobody = setting.system === 'macos' ? 2 : 1;
  const counted = /^\d+ packets transmitted, 0 (?:packets )?received,(.*)$/m.exec(section.output);
  if (section.status !== nobody || counted === null) return undefined;
  return section.words === '' && !/errors/.test(counted[1] ?? '') ? { kind: 'silent' } : undefined;
}

function wordsOf(section: Section): string {
  const said = section.words === '' ? section.output : section.words;
  const line = textLines(said).find((text) => !/^PING6?[ (]/.test(text)) ?? '';
  return cleanText(line) || `ping ended with status ${section.status} and no words`;
}
