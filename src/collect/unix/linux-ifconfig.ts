import { type Found, found, type PortDraft, type Settled } from './draft.ts';
import type { IfconfigLinux } from './ifconfig-linux.ts';

/** A port's facts, with those that neither `ip` nor `/sys` told taken from `ifconfig`. */
export function orIfconfig(draft: PortDraft, port: IfconfigLinux | undefined): PortDraft {
  if (port === undefined) return draft;
  const or = <T>(settled: Settled<T>, value: T | undefined, words: string): Settled<T> => {
    const read: Found<T> | undefined = value === undefined ? undefined : found(value, words);
    return settled !== undefined && 'value' in settled ? settled : (read ?? settled);
  };
  const count = <K extends keyof IfconfigLinux & keyof PortDraft>(name: K): PortDraft[K] =>
    or<unknown>(draft[name], port[name], 'ifconfig') as PortDraft[K];
  return {
    ...draft,
    macAddress: count('macAddress'),
    mtuBytes: count('mtuBytes'),
    adminUp: or(draft.adminUp, port.up, 'ifconfig flag UP'),
    operUp: or(draft.operUp, port.running, 'ifconfig flag RUNNING'),
    addresses: or(draft.addresses, port.addresses, 'ifconfig inet and inet6'),
    rxOctets: count('rxOctets'),
    txOctets: count('txOctets'),
    rxFrames: count('rxFrames'),
    txFrames: count('txFrames'),
    rxErrors: count('rxErrors'),
    txErrors: count('txErrors'),
    rxDropped: count('rxDropped'),
    txDropped: count('txDropped'),
  };
}
