import { monitorEventLoopDelay } from 'node:perf_hooks';
import { setImmediate as turn } from 'node:timers/promises';
import { pathToFileURL } from 'node:url';
import snmp from 'net-snmp';
import { passwordToKey } from '../../src/collect/snmp/key-work.ts';

const engineCount = 1000;
const password = 'reeds-at-low-tide';

type PasswordToKey = typeof passwordToKey;

/** Keys of SNMPv3 for a thousand engines of one password. */
export interface KeysBench {
  readonly engines: number;
  /** All keys, each in a turn of the loop of its own. */
  readonly ms: number;
  /** Longest time that nothing else ran. */
  readonly longestMs: number;
  /** The same as the library makes them. */
  readonly referenceMs: number;
  readonly referenceLongestMs: number;
  readonly timesFaster: number;
}

/**
 * Makes the keys of a thousand engines, ours and the library's.
 *
 * @throws Error when the two give different keys
 */
export async function benchKeys(): Promise<KeysBench> {
  const { passwordToKey: theirs } = snmp.Authentication as unknown as {
    passwordToKey: PasswordToKey;
  };
  const reference = await timed(theirs);
  const ours = await timed(passwordToKey);
  if (ours.keys !== reference.keys) throw new Error('our keys are not those of the library');
  return {
    engines: engineCount,
    ms: ours.ms,
    longestMs: ours.longestMs,
    referenceMs: reference.ms,
    referenceLongestMs: reference.longestMs,
    timesFaster: reference.ms / ours.ms,
  };
}

async function timed(make: PasswordToKey) {
  const delay = monitorEventLoopDelay({ resolution: 1 });
  delay.enable();
  const startedMs = performance.now();
  const keys: string[] = [];
  for (let engine = 0; engine < engineCount; engine += 1) {
    const id = Buffer.from(`80001f8804${engine.toString(16).padStart(8, '0')}`, 'hex');
    keys.push(make(snmp.AuthProtocols.sha256, password, id).toString('hex'));
    await turn();
  }
  const ms = performance.now() - startedMs;
  delay.disable();
  return { ms, longestMs: delay.max / 1e6, keys: keys.join() };
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  process.stdout.write(`${JSON.stringify(await benchKeys(), null, 2)}\n`);
}
