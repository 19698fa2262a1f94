import { cleanText } from '../facts/clean-text.ts';
import type { LogEntry } from './log-entries.ts';

/** What a message says of where and when it was made. */
export interface SyslogHead {
  /** RFC 5424, Table 1: 16 to 23 are local0 to local7. */
  readonly facility: number;
  /** ISO 8601 UTC, with milliseconds. */
  readonly at: string;
  /** Name of the machine that audits. */
  readonly host: string;
  readonly processId: number;
}

/** RFC 5424, Table 2. */
const severityCodes = { error: 3, warning: 4, notice: 5, informational: 6 } as const;

/** RFC 5424 section 6.1: what every receiver should take, in octets. */
export const syslogOctetsMax = 2048;
/** Longest value of a parameter, in characters. */
const valueLengthMax = 80;
/** RFC 5424 section 6: HOSTNAME. */
const hostLengthMax = 255;

/**
 * The name of our structured data. RFC 5424 asks for a number of one's own after the `@`; this one
 * is 32473, which RFC 5612 sets aside for examples, since the project has none.
 */
const structuredDataId = 'finding@32473';

/** The byte order mark by which RFC 5424 section 6.4 marks a text as UTF-8. */
const byteOrderMark = '\ufeff';

/** One message in the form of RFC 5424, at most `syslogOctetsMax` octets in UTF-8. */
export function syslogMessage(entry: LogEntry, head: SyslogHead): string {
  const priority = head.facility * 8 + severityCodes[entry.severity];
  const host = head.host.replaceAll(/[^\x21-\x7e]/g, '').slice(0, hostLengthMax) || '-';
  const fields = `<${priority}>1 ${head.at} ${host} hopgauge ${head.processId} ${entry.kind}`;
  const start = `${fields} ${structuredData(entry)} ${byteOrderMark}`;
  return cutToOctets(start + entry.text, syslogOctetsMax);
}

/** The structured data of an entry, `-` where it has none. */
export function structuredData({ params }: LogEntry): string {
  if (params.length === 0) return '-';
  const pairs = params.map(([name, value]) => `${name}="${escaped(value)}"`);
  return `[${structuredDataId} ${pairs.join(' ')}]`;
}

/** RFC 5424 section 6.3.3: these three and no others. */
function escaped(value: string): string {
  return cleanText(value, valueLengthMax).replaceAll(/["\\\]]/g, '\\$&');
}

/** `text` cut to so many octets of UTF-8, never inside a character. */
export function cutToOctets(text: string, octetsMax: number): string {
  const octets = Buffer.from(text, 'utf8');
  if (octets.length <= octetsMax) return text;
  let end = octetsMax;
  // An octet 10xxxxxx continues a character (RFC 3629 section 3).
  while (end > 0 && ((octets[end] ?? 0) & 0xc0) === 0x80) end -= 1;
  return octets.subarray(0, end).toString('utf8');
}
