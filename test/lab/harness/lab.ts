import { ipByHand, walkByHand } from './by-hand.ts';
import { until } from './command.ts';
import { type Daemon, stopDaemon } from './daemons.ts';
import { managementAddress, type Plan, type PlanNode, planFor } from './plan.ts';
import { type SnmpdOptions, startBridgeMib, startLldpd, startSnmpd } from './snmpd.ts';
import { type SshdOptions, startSshd, writeKnownHosts } from './sshd.ts';
import { buildTopology, restoreTopology, type Topology, takeDown } from './topology.ts';
import { addAccounts } from './users.ts';

/** A running site: topology, accounts and daemons. */
export interface Lab extends Topology {
  readonly daemons: Map<string, Daemon>;
}

/** Builds the site of the plan with sshd on each host and snmpd with its sub-agents on switches. */
export async function startLab(plan: Plan = planFor()): Promise<Lab> {
  const topology = await buildTopology(plan);
  const lab: Lab = { ...topology, daemons: new Map() };
  try {
    await addAccounts(lab);
    await Promise.all(plan.nodes.map((node) => startDaemons(lab, node)));
    await writeKnownHosts(lab);
    return lab;
  } catch (error) {
    await stopLab(lab);
    throw error;
  }
}

/** Ends the site; nothing of it is left. */
export function stopLab(lab: Lab): Promise<void> {
  return takeDown(lab);
}

/**
 * Sets everything to how it was first, or to what `change` makes of that, and waits until the
 * agents tell so: they answer from a table that they read anew only every few seconds.
 */
export async function settle(lab: Lab, change?: () => Promise<void>): Promise<void> {
  await restoreTopology(lab);
  await change?.();
  for (const node of lab.plan.nodes) {
    if (node.kind === 'switch') await untilAgentTells(lab, node);
  }
}

/** Waits until the agent of a switch tells what its kernel does. */
export async function untilAgentTells(lab: Lab, node: PlanNode): Promise<void> {
  const machine = lab.machine(node.name);
  const address = managementAddress(node);
  await until(`the agent of ${node.name} tells the MTUs and states in use`, async () => {
    const mtus = await walkByHand(lab.auditor, address, ifMtu);
    const states = await walkByHand(lab.auditor, address, ifOperStatus);
    const links = await ipByHand(machine, ['link']);
    return links.every(({ ifindex, mtu, flags }) => {
      const up = Array.isArray(flags) && flags.includes('LOWER_UP');
      const index = String(ifindex);
      return mtus.get(index) === String(mtu) && states.get(index) === (up ? '1' : '2');
    });
  });
}

const ifMtu = '1.3.6.1.2.1.2.2.1.4';
const ifOperStatus = '1.3.6.1.2.1.2.2.1.8';

async function startDaemons(lab: Lab, node: PlanNode): Promise<void> {
  if (node.kind === 'switch') await restartSnmpd(lab, node.name);
  else await restartSshd(lab, node.name);
}

export async function restartSshd(lab: Lab, node: string, options?: SshdOptions): Promise<void> {
  await stopSshd(lab, node);
  lab.daemons.set(`sshd ${node}`, await startSshd(lab, node, options));
}

export async function stopSshd(lab: Lab, node: string): Promise<void> {
  await stop(lab, `sshd ${node}`);
}

/** Starts the agent and, since they lose it, its sub-agents. */
export async function restartSnmpd(lab: Lab, node: string, options?: SnmpdOptions): Promise<void> {
  await stopSnmpd(lab, node);
  lab.daemons.set(`snmpd ${node}`, await startSnmpd(lab, node, options));
  lab.daemons.set(`bridge-mib ${node}`, await startBridgeMib(lab, node));
  lab.daemons.set(`lldpd ${node}`, await startLldpd(lab, node));
}

export async function stopSnmpd(lab: Lab, node: string): Promise<void> {
  await stop(lab, `bridge-mib ${node}`);
  await stop(lab, `lldpd ${node}`);
  await stop(lab, `snmpd ${node}`);
}

async function stop(lab: Lab, key: string): Promise<void> {
  const daemon = lab.daemons.get(key);
  lab.daemons.delete(key);
  if (daemon !== undefined) await stopDaemon(daemon);
}
