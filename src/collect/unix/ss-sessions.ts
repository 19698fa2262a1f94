import { isIP } from 'node:net';
import type { SessionReading } from '../../facts/survey.ts';
import { firstGroup, textLines, wholeNumber, words } from './text.ts';

interface Session {
  readonly local: string;
  readonly remote: string;
  readonly segmentBytes: number;
  readonly advertisedBytes: number | undefined;
  readonly pathMtuBytes: number | undefined;
  readonly timestamps: boolean;
}

/** Pairs of addresses that are kept. */
const pairsMax = 512;

/**
 * Reads `ss -tino` (without `o` it prints neither `ts` nor `sack`), with or without header and state column: established sessions, grouped by
 * their pair of addresses. Sessions of the machine with itself are left out.
 */
export function parseSsSessions(output: string): readonly SessionReading[] {
  const groups = new Map<string, SessionReading>();
  let ends: readonly [string, string] | undefined;
  for (const line of textLines(output)) {
    if (!/^\s/.test(line)) {
      ends = endsOf(line);
    } else if (ends !== undefined) {
      const session = sessionOf(ends, line);
      ends = undefined;
      if (session !== undefined) add(groups, session);
    }
  }
  return [...groups.values()];
}

function endsOf(line: string): readonly [string, string] | undefined {
  const columns = words(line);
  const state = /^\d+$/.test(columns[0] ?? '') ? undefined : columns.shift();
  if (state !== undefined && state !== 'ESTAB') return undefined;
  const local = hostOf(columns[2]);
  const remote = hostOf(columns[3]);
  if (local === undefined || remote === undefined || local === remote) return undefined;
  return isLoopback(local) || isLoopback(remote) ? undefined : [local, remote];
}

/**
 * Address of `198.18.0.1:22`, `[2001:db8::1]:22` or `[fe80::1]%eth0:22`; a zone is kept only
 * where the address means nothing without it.
 */
function hostOf(text: string | undefined): string | undefined {
  const match = /^\[?([0-9a-f.:]+?)(?:%([\w.@-]+))?\]?(?:%([\w.@-]+))?:(?:\d+|\*)$/i.exec(
    text ?? '',
  );
  if (match === null) return undefined;
  const [, address = '', innerZone, outerZone] = match;
  const zone = innerZone ?? outerZone;
  const mapped = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/i.exec(address)?.[1];
  const plain = (mapped ?? address).toLowerCase();
  if (isIP(plain) === 0) return undefined;
  return zone !== undefined && /^fe[89ab]/.test(plain) ? `${plain}%${zone}` : plain;
}

function isLoopback(address: string): boolean {
  return address === '::1' || address.startsWith('127.');
}

function sessionOf(ends: readonly [string, string], line: string): Session | undefined {
  const segmentBytes = sizeOf(line, 'mss');
  if (segmentBytes === undefined) return undefined;
  return {
    local: ends[0],
    remote: ends[1],
    segmentBytes,
    advertisedBytes: sizeOf(line, 'advmss'),
    pathMtuBytes: sizeOf(line, 'pmtu'),
    timestamps: words(line).includes('ts'),
  };
}

const sizes = {
  mss: /\smss:(\d+)(?=\s|$)/,
  advmss: /\sadvmss:(\d+)(?=\s|$)/,
  pmtu: /\spmtu:(\d+)(?=\s|$)/,
};

function sizeOf(line: string, name: keyof typeof sizes): number | undefined {
  const value = wholeNumber(firstGroup(line, sizes[name]));
  return value !== undefined && value > 0 && value <= 65_535 ? value : undefined;
}

function add(groups: Map<string, SessionReading>, session: Session): void {
  const key = `${session.local} ${session.remote}`;
  const known = groups.get(key);
  if (known === undefined && groups.size >= pairsMax) return;
  const count = (known?.count ?? 0) + 1;
  if (known !== undefined && known.segmentBytes >= session.segmentBytes) {
    groups.set(key, { ...known, count });
    return;
  }
  const { advertisedBytes, pathMtuBytes, ...rest } = session;
  groups.set(key, {
    ...rest,
    count,
    ...(advertisedBytes === undefined ? {} : { advertisedBytes }),
    ...(pathMtuBytes === undefined ? {} : { pathMtuBytes }),
  });
}
