import { cleanText } from '../../facts/clean-text.ts';
import type { Trouble } from '../../facts/trouble.ts';
import type { ReadOutcome } from '../types.ts';
import { type Framed, framesOf, noMarks, sectionKey } from './frames.ts';
import { freebsdReading } from './freebsd-reading.ts';
import { linuxReading } from './linux-reading.ts';
import { macosReading } from './macos-reading.ts';
import { systemKindOf } from './node-reading.ts';

const shellRemedy =
  'give the account a login shell that runs `sh -s`, or the script as forced command';

/**
 * Reads what the script of `unixScript` printed. Never throws. An answer that ends early gives
 * what came whole, with the gap `truncated` for the rest, or trouble where not even the list of
 * ports came.
 */
export function parseUnixOutput(output: Uint8Array, marker: string): ReadOutcome {
  const framed = framesOf(output, marker);
  if (!framed.begun) return { ok: false, trouble: noMarks(framed, shellRemedy) };
  const system = systemKindOf(framed);
  if (system === undefined && framed.whole) return { ok: false, trouble: unknownSystem(framed) };
  const reading = readers[system ?? 'linux'](framed);
  if (reading === undefined) {
    return { ok: false, trouble: framed.whole ? noPorts(framed) : cutShort };
  }
  return { ok: true, reading };
}

const readers = { linux: linuxReading, macos: macosReading, freebsd: freebsdReading } as const;

function unknownSystem(framed: Framed): Trouble {
  const said = framed.sections.get(sectionKey('system'));
  const seen = cleanText(said?.output || said?.words || 'nothing', 120);
  return {
    kind: 'system-unknown',
    seen: `uname -s says "${seen}"`,
    remedy: 'read this node over snmp; over ssh only linux, macos and freebsd are read',
  };
}

function noPorts(framed: Framed): Trouble {
  const section =
    framed.sections.get(sectionKey('ip-link')) ?? framed.sections.get(sectionKey('ifconfig'));
  const seen = cleanText(section?.words || 'no words', 120);
  return {
    kind: 'garbled',
    seen: `no list of ports: "${seen}"`,
    remedy: 'let the account run ip or read /sys/class/net, on macos and freebsd run ifconfig',
  };
}

const cutShort: Trouble = {
  kind: 'truncated',
  seen: 'the answer ended before the list of ports was whole',
  remedy: 'run the reading again; raise the time limit if the node is slow',
};
