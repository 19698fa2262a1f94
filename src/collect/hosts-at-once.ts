import { readFileSync } from 'node:fs';

/** Descriptors that are left to everything but hosts: modules, history, name lookups, agents. */
export const descriptorsReserved = 64;
/** Most that one host needs at one time: files of known hosts, or pipes of `ssh -G`, then a socket. */
export const descriptorsPerHost = 4;

/** Hosts read at one time under what `/proc/self/limits` says; without it as many as are wanted. */
export function hostsAtOnce(limits: string | undefined): number {
  const most = /^Max open files +(\d+) /m.exec(limits ?? '')?.[1];
  if (most === undefined) return Number.POSITIVE_INFINITY;
  return Math.max(1, Math.floor((Number(most) - descriptorsReserved) / descriptorsPerHost));
}

/** Limits of this process as Linux tells them; undefined elsewhere, where Node takes all there is. */
export function ownLimits(): string | undefined {
  try {
    return readFileSync('/proc/self/limits', 'utf8');
  } catch {
    return undefined;
  }
}
