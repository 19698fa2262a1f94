import { parseJson } from '../../../src/facts/json.ts';
import { type Machine, mustInNs } from './namespaces.ts';
import { snmpSecrets } from './snmpd.ts';

/** Binary, and sometimes looks like text. */
const ifPhysAddress = '1.3.6.1.2.1.2.2.1.6';

/** What `snmpbulkwalk` reads of one column, by index, as it prints plain values. */
export async function walkByHand(
  auditor: Machine,
  address: string,
  column: string,
): Promise<ReadonlyMap<string, string>> {
  const community = snmpSecrets.SALTMARSH_COMMUNITY;
  const argv = ['snmpbulkwalk', '-v2c', '-c', community, '-On', '-Oq', '-Oe'];
  const hex = column === ifPhysAddress ? ['-Ox'] : [];
  const text = await mustInNs(auditor, [...argv, ...hex, address, column]);
  const cells = new Map<string, string>();
  for (const line of text.trim().split('\n')) {
    const [oid = '', ...value] = line.split(' ');
    if (!oid.startsWith(`.${column}.`)) throw new Error(`lab: not of ${column}: ${line}`);
    cells.set(oid.slice(column.length + 2), value.join(' ').replaceAll('"', '').trim());
  }
  return cells;
}

/** One file of `/sys/class/net/PORT`, or undefined where the kernel refuses to show it. */
export async function sysfsByHand(
  machine: Machine,
  port: string,
  file: string,
): Promise<string | undefined> {
  const argv = ['sh', '-c', 'cat -- "/sys/class/net/$1/$2" 2>/dev/null || printf "!"', 'sh', port];
  const text = (await mustInNs(machine, [...argv, file])).trim();
  return text === '!' ? undefined : text;
}

/** What `ip -j` prints, one record per interface. */
export async function ipByHand(
  machine: Machine,
  words: readonly string[],
): Promise<readonly Readonly<Record<string, unknown>>[]> {
  const parsed = parseJson(await mustInNs(machine, ['ip', '-j', ...words]));
  if (!Array.isArray(parsed)) throw new Error('lab: ip -j printed no list');
  return parsed;
}
