import type { DescribedSwitch } from '../../mocks/snmp-agent/described-switch.ts';
import { readMessage } from '../../mocks/snmp-agent/message-codec.ts';
import type { SnmpTiming } from '../../src/collect/snmp/target.ts';
import type { TroubleKind } from '../../src/facts/trouble.ts';
import {
  type AgentPlace,
  agent,
  answering,
  changing,
  closedPort,
  known,
  renumbered,
  reversioned,
  twoEngines,
} from './agent-places.ts';

/** Where one wait has to end; what is wrong and is said comes at once. */
const brief: SnmpTiming = { replyTimeoutMs: 80, retries: 1, backoff: 1 };
const patient: SnmpTiming = { replyTimeoutMs: 3000, retries: 1 };
/** RFC 3416, 3. */
const authorizationError = 16;

/** One way in which an agent fails at its door. */
export interface AgentDoor {
  readonly name: string;
  /**
   * What the audit is told where it asks as a user (SNMPv3), and by community; absent: it is not
   * asked so.
   */
  readonly trouble: { readonly user?: TroubleKind; readonly community?: TroubleKind };
  /** Nothing is wrong. */
  readonly isWell?: true;
  readonly timing: SnmpTiming;
  readonly open: (described: DescribedSwitch) => Promise<AgentPlace>;
}

/** Boots and time of 0 ask for a resync each time. */
function endlessReport(request: Buffer): Buffer {
  const engine = { engineID: Buffer.from('80007ed904', 'hex'), engineBoots: 0, engineTime: 0 };
  return readMessage(request).createReportResponseMessage(engine, '', '4').toBuffer();
}

function refusal(request: Buffer): Buffer {
  const message = readMessage(request);
  const response = message.pdu.getResponsePduForRequest();
  response.errorStatus = authorizationError;
  return message.createResponseForRequest(response).toBuffer();
}

const silentTo = { user: 'silent', community: 'silent' } as const;
const garbledTo = { user: 'garbled', community: 'garbled' } as const;
const garbage = Buffer.from(Array.from({ length: 200 }, (_, at) => (at * 167 + 13) % 256));

/** Each way in which an agent fails at its door, and last the door with which nothing is wrong. */
export const agentDoors: readonly AgentDoor[] = [
  { name: 'has closed its port', trouble: silentTo, timing: brief, open: closedPort },
  { name: 'says nothing', trouble: silentTo, timing: brief, open: agent({ vice: 'hangs' }) },
  {
    name: 'says nothing after discovery',
    trouble: { user: 'privacy-silent' },
    timing: brief,
    open: agent({ vice: { silentAfter: 1 } }),
  },
  {
    name: 'sends garbage',
    trouble: garbledTo,
    timing: brief,
    open: () => answering((_, send) => send(garbage)),
  },
  {
    name: 'floods with garbage',
    trouble: garbledTo,
    timing: brief,
    open: () => answering((_, send) => Array.from({ length: 200 }, () => send(garbage))),
  },
  {
    name: 'answers another request',
    trouble: garbledTo,
    timing: brief,
    open: changing(renumbered),
  },
  {
    name: 'answers in another version',
    trouble: garbledTo,
    timing: brief,
    open: changing(reversioned),
  },
  {
    name: 'changes its engine',
    trouble: { user: 'clock-lost' },
    timing: patient,
    open: twoEngines,
  },
  {
    name: 'is outside the time window for ever',
    trouble: { user: 'clock-lost' },
    timing: patient,
    open: agent({ vice: 'clock-lost' }),
  },
  {
    name: 'reports without end',
    trouble: { user: 'garbled' },
    timing: patient,
    open: () => answering((request, send) => send(endlessReport(request))),
  },
  {
    name: 'answers without protection',
    trouble: { user: 'garbled' },
    timing: patient,
    open: agent({ vice: 'unsigned' }),
  },
  {
    name: 'does not know the user or the community',
    trouble: { user: 'user-unknown', community: 'silent' },
    timing: brief,
    open: agent({ users: [], communities: [] }),
  },
  {
    name: 'has another secret for the user',
    trouble: { user: 'auth-wrong' },
    timing: patient,
    open: agent({ users: [{ ...known, auth: { protocol: 'sha256', secret: 'another word' } }] }),
  },
  {
    name: 'has no privacy for the user',
    trouble: { user: 'level-too-low' },
    timing: patient,
    open: agent({ users: [{ name: known.name, auth: known.auth }] }),
  },
  {
    name: 'refuses to be read',
    trouble: { community: 'level-too-low' },
    timing: patient,
    open: () => answering((request, send) => send(refusal(request))),
  },
  { name: 'is well', trouble: {}, isWell: true, timing: patient, open: agent() },
];
