import { z } from 'zod';
import type { PlannedNode, SurveyPlan } from '../collect/plan.ts';
import { routesPerNodeMax } from '../collect/types.ts';
import type { ReadTopic } from '../facts/read-topics.ts';
import { everyTopic, readTopics } from '../facts/read-topics.ts';
import { parseAddress } from '../intent/address.ts';
import {
  authProtocols,
  hostKeyPlaces,
  privacyProtocols,
  sshCarriers,
  sshSystems,
} from '../intent/types.ts';

/** One node that a collector is to read, as it lies in the queue. Secrets by name, never a secret. */
export interface AskedNode {
  readonly version: 1;
  /** Of the audit that asks. */
  readonly run: string;
  readonly site: string;
  /** Nobody waits for the answer after this; ISO 8601 UTC. */
  readonly until: string;
  readonly node: PlannedNode;
  /** Where the nodes are that its paths lead to. */
  readonly whereabouts: Readonly<Record<string, string>>;
  readonly topics: readonly ReadTopic[];
}

const name = z.string().min(1).max(256);
const host = z
  .string()
  .max(255)
  .refine((text) => parseAddress(text) !== undefined, 'no address');
const port = z.int().min(1).max(65_535);

const ssh = z.strictObject({
  via: z.literal('ssh'),
  name,
  user: z
    .string()
    .regex(/^[A-Za-z0-9_][A-Za-z0-9_.@\\-]{0,63}\$?$/)
    .exactOptional(),
  port: port.exactOptional(),
  key: z.string().max(1024).exactOptional(),
  passphrase: name.exactOptional(),
  password: name.exactOptional(),
  jump: z
    .string()
    .max(330)
    .regex(/^[A-Za-z0-9_[]/)
    .exactOptional(),
  system: z.enum(sshSystems).exactOptional(),
  through: z.enum(sshCarriers).exactOptional(),
  hostKeys: z.enum(hostKeyPlaces).exactOptional(),
  knownAs: z
    .string()
    .regex(/^[a-z0-9.-]{1,200}$/)
    .exactOptional(),
});

const snmp = z.strictObject({
  via: z.literal('snmp'),
  name,
  version: z.enum(['2c', '3']),
  port: port.exactOptional(),
  community: name.exactOptional(),
  user: z.string().max(32).exactOptional(),
  auth: z.enum(authProtocols).exactOptional(),
  privacy: z.enum(privacyProtocols).exactOptional(),
  secret: z
    .strictObject({ auth: name.exactOptional(), privacy: name.exactOptional() })
    .exactOptional(),
  context: z.string().max(32).exactOptional(),
});

/** What lies in the queue was written by another machine: nothing of it is taken unseen. */
const askedSchema = z.strictObject({
  version: z.literal(1),
  run: z.uuid(),
  site: z.string().min(1),
  until: z.iso.datetime(),
  node: z.strictObject({
    name,
    at: host,
    atPort: port.exactOptional(),
    hostKey: z
      .string()
      .regex(/^SHA256:[A-Za-z0-9+/]{43}$/)
      .exactOptional(),
    reach: name.exactOptional(),
    access: z
      .array(z.union([ssh, snmp]))
      .min(1)
      .max(16),
    peerNames: z.array(name).max(routesPerNodeMax),
  }),
  whereabouts: z.record(name, host),
  topics: z.array(z.enum(readTopics)).max(everyTopic.size),
});

/** What was put into the queue; undefined: it is of no form that this program knows. */
export function askedNodeIn(value: unknown): AskedNode | undefined {
  const checked = askedSchema.safeParse(value);
  return checked.success ? checked.data : undefined;
}

/** The plan of a collector for one node. */
export function planOf({ site, node, whereabouts }: AskedNode): SurveyPlan {
  return { site, nodes: [node], whereabouts: new Map(Object.entries(whereabouts)) };
}

/** What an audit asks for one node of its plan. Whether it sleeps is known where all is read. */
export function askedNode(
  { farPorts: _, ...node }: PlannedNode,
  plan: SurveyPlan,
  run: Pick<AskedNode, 'run' | 'until' | 'topics'>,
): AskedNode {
  const whereabouts: Record<string, string> = {};
  for (const peer of node.peerNames) {
    const at = plan.whereabouts.get(peer);
    if (at !== undefined) whereabouts[peer] = at;
  }
  return { version: 1, ...run, site: plan.site, node, whereabouts };
}
