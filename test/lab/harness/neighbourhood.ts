import { spawn } from 'node:child_process';
import { until } from './command.ts';
import type { Lab } from './lab.ts';
import { inside, type Machine, mustInNs } from './namespaces.ts';
import { dataAddress, macOf } from './plan.ts';
import { untilReached } from './topology.ts';

/** Lets the switches announce themselves now, and waits until both hear as many neighbours. */
export async function untilLldpTells(lab: Lab, count: number): Promise<void> {
  const switches = ['quay', 'loft'].map((name) => lab.machine(name));
  await until(
    'LLDP of both switches',
    async () => {
      for (const machine of switches) await mustInNs(machine, ['lldpcli', 'update']);
      const heard = await Promise.all(switches.map(lldpByHand));
      return heard.every((rows) => rows.length === count);
    },
    { limitMs: 60_000 },
  );
}

/** Port here, system and port there, as `lldpcli` tells; lldpd names ports by their addresses. */
export async function lldpByHand(machine: Machine): Promise<readonly string[]> {
  const said = await mustInNs(machine, ['lldpcli', '-f', 'keyvalue', 'show', 'neighbors']);
  const told = (key: string) =>
    new Map(
      [...said.matchAll(new RegExp(`^lldp\\.(\\w+)\\.${key}=(.*)$`, 'gm'))].map(
        ([, port = '', value = '']) => [port, value],
      ),
    );
  const [names, macs] = [told('chassis\\.name'), told('port\\.mac')];
  return [...names].map(([port, name]) => `${port} ${name} ${macs.get(port)}`).sort();
}

/**
 * Hosts that say something all the time, so that the switches know where they are; for a site with
 * the router `gate`.
 */
export async function talk(lab: Lab): Promise<void> {
  for (const [from, to] of [
    ['plot', 'vault'],
    ['vault', 'gate'],
    ['gate', 'plot'],
  ] as const) {
    await untilReached(lab, from, to);
    // Ends by itself, or with the machine.
    const pings = ['ping', '-n', '-q', '-i', '0.2', '-w', '100', dataAddress(lab.node(to))];
    const [file = '', ...rest] = inside(lab.machine(from), pings);
    spawn(file, rest, { stdio: 'ignore' });
  }
  await until('the tables of both switches', async () => {
    const tables = await Promise.all(
      ['quay', 'loft'].map(async (name) => (await fdbByHand(lab, name)).size),
    );
    return tables.every((size) => size >= 3);
  });
}

/** Port by MAC address of the data ports of hosts, as `bridge` (iproute2) prints its table. */
export async function fdbByHand(lab: Lab, name: string): Promise<ReadonlyMap<string, string>> {
  const said = await mustInNs(lab.machine(name), ['bridge', 'fdb', 'show', 'br', 'br0', 'dynamic']);
  const hosts = new Set(['plot', 'vault', 'gate'].map((host) => macOf(lab.plan, [host, 'eth0'])));
  const rows = [...said.matchAll(/^(\S+) dev (\S+)/gm)].map(
    ([, mac = '', port = '']): [string, string] => [mac, port],
  );
  return new Map(rows.filter(([mac]) => hosts.has(mac)));
}
