import { fileTargets } from './file-targets.ts';
import { probeTargets } from './probe-targets.ts';
import { readerTargets } from './reader-targets.ts';
import { snmpTargets } from './snmp-targets.ts';
import type { FuzzTarget } from './try-target.ts';

/** Every parser and decoder that meets what others wrote. */
export const fuzzTargets: readonly FuzzTarget[] = [
  ...fileTargets,
  ...readerTargets,
  ...probeTargets,
  ...snmpTargets,
];
