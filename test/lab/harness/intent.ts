import { stringify } from 'yaml';
import { dataAddress, managementAddress, type PlanNode } from './plan.ts';
import type { Topology } from './topology.ts';

/** The parts of an intent file that cases change. Written as YAML. */
export interface IntentDraft {
  intent: 1;
  site: string;
  access: Record<string, Record<string, unknown>>;
  nodes: Record<string, Record<string, unknown>>;
  segments: Record<string, Record<string, unknown>>;
  links: Record<string, unknown>[];
  paths: Record<string, Record<string, unknown>>;
  policies?: string[];
  waivers?: Record<string, unknown>[];
}

/**
 * What the owner of the topology would declare: every node, link and segment, and the path from
 * plot to vault at 9000 bytes.
 */
export function intentDraft({ plan }: Topology): IntentDraft {
  const nodes = plan.nodes.map((node) => [node.name, nodeOf(node)] as const);
  return {
    intent: 1,
    site: 'Saltmarsh survey office',
    access: {
      hosts: { ssh: { user: 'auditor', key: '~/.ssh/id_ed25519' } },
      switches: {
        snmp: {
          ...{ version: 3, user: 'auditor', auth: 'sha256', privacy: 'aes128' },
          secret: { auth: 'SALTMARSH_AUTH', privacy: 'SALTMARSH_PRIV' },
        },
      },
    },
    nodes: Object.fromEntries(nodes),
    segments: {
      storage: { mtu: 9000 },
      ...(plan.nodes.some(({ kind }) => kind === 'router') && { upstairs: { mtu: 9000 } }),
    },
    links: plan.links.map((ends) => ({
      ends: ends.map((end) => end.join(':')),
      untagged: ends.some(([node]) => node === 'attic') ? 'upstairs' : 'storage',
      speed: '10G',
    })),
    paths: { plotting: { from: ['plot'], to: ['vault'], over: ['storage'] } },
  };
}

function nodeOf(node: PlanNode): Record<string, unknown> {
  if (node.kind === 'switch') {
    const mtuCounts = { port: 'payload' };
    return { at: managementAddress(node), access: ['switches'], mtuCounts };
  }
  const routes = node.kind === 'router' ? { routes: true } : {};
  return { at: dataAddress(node), access: ['hosts'], ...routes };
}

/** The text of the intent file, after `change` has had its way with the draft. */
export function intentFor(
  topology: Topology,
  change: (draft: IntentDraft) => void = () => undefined,
): string {
  const draft = intentDraft(topology);
  change(draft);
  return stringify(draft);
}
