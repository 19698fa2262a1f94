import { rmSync } from 'node:fs';
import { runDirectory, sweepStaleRuns } from './cleanup.ts';
import { until } from './command.ts';
import {
  inNs,
  ipBatch,
  joinPorts,
  type Machine,
  mustInNs,
  startMachine,
  stopMachine,
} from './namespaces.ts';
import {
  auditorNumber,
  dataAddress,
  hostMtuBytes,
  macOf,
  managementAddress,
  managementAddress6,
  type Plan,
  type PlanNode,
  switchMtuBytes,
} from './plan.ts';

/** A topology that runs: machines, cables and addresses, without daemons. */
export interface Topology {
  readonly plan: Plan;
  /** Temporary directory of this run; removed with it. */
  readonly directory: string;
  readonly machines: ReadonlyMap<string, Machine>;
  readonly auditor: Machine;
  node(name: string): PlanNode;
  machine(name: string): Machine;
}

/** Builds what the plan says. What was built is taken down again if a step fails. */
export async function buildTopology(plan: Plan): Promise<Topology> {
  sweepStaleRuns();
  const machines = new Map<string, Machine>();
  const directory = runDirectory();
  try {
    const names = ['auditor', 'management', ...plan.nodes.map((node) => node.name)];
    for (const machine of await Promise.all(names.map(startMachine))) {
      machines.set(machine.name, machine);
    }
    const topology = topologyOf(plan, directory, machines);
    await layCables(topology);
    await Promise.all(plan.nodes.map((node) => configure(topology, node)));
    await configureAuditor(topology);
    await restoreTopology(topology);
    return topology;
  } catch (error) {
    await takeDown({ machines, directory });
    throw error;
  }
}

/** Ends every machine and removes the run's directory. */
export async function takeDown(topology: Pick<Topology, 'machines' | 'directory'>): Promise<void> {
  await Promise.all([...topology.machines.values()].map(stopMachine));
  rmSync(topology.directory, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
}

function topologyOf(
  plan: Plan,
  directory: string,
  machines: ReadonlyMap<string, Machine>,
): Topology {
  const machine = (name: string) => {
    const found = machines.get(name);
    if (found === undefined) throw new Error(`lab: no machine ${name}`);
    return found;
  };
  const node = (name: string) => {
    const found = plan.nodes.find((each) => each.name === name);
    if (found === undefined) throw new Error(`lab: no node ${name}`);
    return found;
  };
  return { plan, directory, machines, auditor: machine('auditor'), node, machine };
}

async function layCables({ plan, machine, auditor }: Topology): Promise<void> {
  const management = machine('management');
  await ipBatch(management, ['link add br0 type bridge', 'link set br0 up']);
  for (const [[near, nearPort], [far, farPort]] of plan.links) {
    await joinPorts([machine(near), nearPort], [machine(far), farPort]);
  }
  for (const each of [auditor, ...plan.nodes.map((node) => machine(node.name))]) {
    await joinPorts([each, 'mgmt0'], [management, each.name]);
    await ipBatch(management, [`link set ${each.name} master br0 up`]);
  }
}

async function configure(topology: Topology, node: PlanNode): Promise<void> {
  const machine = topology.machine(node.name);
  const ends = topology.plan.links.flat().filter(([name]) => name === node.name);
  await ipBatch(machine, [
    ...managementLines(node),
    ...ends.map(([, port]) => {
      return `link set ${port} address ${macOf(topology.plan, [node.name, port])}`;
    }),
    ...bridgeLines(node),
    ...Object.entries(node.data).map(([port, net]) => {
      return `addr add 198.18.${net}.${node.number}/24 dev ${port}`;
    }),
    // No IPv6 of its own on the data path: nothing then passes there unless somebody sends it.
    ...ends.map(([, port]) => `link set ${port} addrgenmode none`),
    ...ends.map(([, port]) => `link set ${port} up`),
    ...(node.gateway === undefined ? [] : [`route add default via ${node.gateway}`]),
  ]);
  if (node.kind === 'router') await mustInNs(machine, ['sysctl', '-qw', 'net.ipv4.ip_forward=1']);
}

function managementLines(node: { readonly number: number }): readonly string[] {
  return [
    `addr add ${managementAddress(node)}/24 dev mgmt0`,
    `addr add ${managementAddress6(node)}/64 dev mgmt0 nodad`,
    'link set mgmt0 up',
  ];
}

/** Spanning tree only on switches, at its fastest; the lowest number is the root. */
function bridgeLines(node: PlanNode): readonly string[] {
  if (node.bridged.length === 0) return [];
  const tree =
    node.kind === 'switch'
      ? `stp_state 1 forward_delay 200 hello_time 100 max_age 600 priority ${node.number * 256}`
      : 'stp_state 0 forward_delay 0';
  return [
    `link add br0 type bridge ${tree}`,
    ...node.bridged.map((port) => `link set ${port} master br0`),
    'link set br0 up',
  ];
}

async function configureAuditor({ plan, auditor }: Topology): Promise<void> {
  const addressed = plan.nodes.filter((node) => Object.keys(node.data).length > 0);
  await ipBatch(auditor, [
    ...managementLines({ number: auditorNumber }),
    // So that a host's data address can be its address in the intent while the auditor reaches
    // it on the side, whatever happens to the data path.
    ...addressed.map((node) => `route add ${dataAddress(node)}/32 via ${managementAddress(node)}`),
  ]);
}

/** Sets every port up and to its first MTU, and waits until plot reaches vault again. */
export async function restoreTopology(topology: Topology): Promise<void> {
  const { plan } = topology;
  await Promise.all(
    plan.nodes.map((node) => {
      const mtu = node.kind === 'switch' ? switchMtuBytes : hostMtuBytes;
      const ports = plan.links.flat().filter(([name]) => name === node.name);
      // Members first: a bridge cannot be larger than they are.
      const names = [...ports.map(([, port]) => port), ...(node.bridged.length > 0 ? ['br0'] : [])];
      return ipBatch(topology.machine(node.name), [
        ...names.map((port) => `link set ${port} mtu ${mtu} up`),
      ]);
    }),
  );
  await untilTreeStands(topology);
  await untilReached(topology, 'plot', 'vault');
}

/** Waits until spanning tree blocks what the plan says and nothing else. */
async function untilTreeStands({ plan, machine }: Topology): Promise<void> {
  const blocks = ({ name }: PlanNode, port: string) =>
    plan.blocked.some(([owner, blocked]) => owner === name && blocked === port);
  for (const node of plan.nodes) {
    if (node.kind !== 'switch') continue;
    const wanted = node.bridged.map((port) => `${port} ${blocks(node, port) ? 4 : 3}`).join('\n');
    const argv = [
      ...['sh', '-c', 'for p; do echo "$p $(cat /sys/class/net/$p/brport/state)"; done', 'sh'],
      ...node.bridged,
    ];
    await until(
      `the tree of ${node.name}`,
      async () => (await inNs(machine(node.name), argv)).stdout.trim() === wanted,
      { limitMs: 60_000 },
    );
  }
}

/**
 * Lets the switches forget where stations are. A switch that was on no way keeps sending to where
 * a station was, for as long as its table lasts.
 */
async function forgetStations({ plan, machine }: Topology): Promise<void> {
  const switches = plan.nodes.filter(({ kind }) => kind === 'switch');
  await Promise.all(
    switches.map(({ name }) => ipBatch(machine(name), ['link set br0 type bridge fdb_flush'])),
  );
}

/** Waits until small packets pass from one host to another. */
export async function untilReached(topology: Topology, from: string, to: string): Promise<void> {
  await until(
    `${from} reaches ${to}`,
    async () => {
      await forgetStations(topology);
      return (await dfPing(topology, [from, to], 100)).passes;
    },
    { limitMs: 60_000 },
  );
}

export interface PingAnswer {
  readonly passes: boolean;
  /** The sender's own words. */
  readonly words: string;
}

/** A size is lost once this many packets of it are (RFC 8899, 5.1.2: MAX_PROBES). */
const triesMax = 3;

/**
 * A don't-fragment ping with an IPv4 packet of `packetBytes` (28 of them are headers). Silence is
 * believed only after three tries: one packet may also be lost for a reason that is none of size.
 */
export async function dfPing(
  topology: Topology,
  way: readonly [string, string],
  packetBytes: number,
): Promise<PingAnswer> {
  let answer = await onePing(topology, way, packetBytes);
  for (let tries = 1; tries < triesMax && isSilent(answer); tries++)
    answer = await onePing(topology, way, packetBytes);
  return answer;
}

function isSilent({ passes, words }: PingAnswer): boolean {
  return !passes && !/too long|frag needed|unreachable/i.test(words);
}

async function onePing(
  topology: Topology,
  [from, to]: readonly [string, string],
  packetBytes: number,
): Promise<PingAnswer> {
  const size = String(packetBytes - 28);
  const address = dataAddress(topology.node(to));
  const ran = await inNs(topology.machine(from), [
    ...['ping', '-n', '-M', 'do', '-c', '1', '-W', '0.5', '-s', size, address],
  ]);
  return { passes: ran.code === 0, words: `${ran.stdout}${ran.stderr}` };
}

export function setMtu(
  topology: Topology,
  [node, port]: readonly [string, string],
  mtuBytes: number,
): Promise<void> {
  return ipBatch(topology.machine(node), [`link set ${port} mtu ${mtuBytes}`]);
}

/** Takes a port down and up, so that spanning tree forgets what it heard there. */
export function bounce(topology: Topology, [node, port]: readonly [string, string]): Promise<void> {
  return ipBatch(topology.machine(node), [`link set ${port} down`, `link set ${port} up`]);
}

export function linkDown(
  topology: Topology,
  [node, port]: readonly [string, string],
): Promise<void> {
  return ipBatch(topology.machine(node), [`link set ${port} down`]);
}
