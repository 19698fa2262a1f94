import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { startAgent } from '../../mocks/snmp-agent/start-agent.ts';
import type { HostVice } from '../../mocks/ssh-host/host-vice.ts';
import { defaultReadLimits } from '../../src/collect/types.ts';
import { loadSurvey } from '../../src/facts/saved-survey.ts';
import type { NodeSurvey, Survey } from '../../src/facts/survey.ts';
import { fullSwitch, plainSwitch } from '../collect/snmp/quay-switch.ts';
import { answering } from '../lost-reads/agent-places.ts';
import { type OwnSite, ownSite, type Ran } from './own-site.ts';

// Nodes that never end, several at once, against the whole command line as a process of its own: what it
// needs of memory is bounded, and it says of each what was seen. Bounds are wide: three times what was
// measured beyond the base, so that they tell growth without limit from a garbage collector that is late.

const megabyte = 2 ** 20;
const limitBytes = defaultReadLimits.outputBytesMax;
/**
 * What a node may cost, as a multiple of the bytes that are taken from it. Of a host they are kept as they
 * came (measured: 0.9); of an agent each value becomes a row with its port (measured: 18, at 16 octets
 * a value).
 */
const costMax = { host: 3, agent: 40 };

let site: OwnSite;
/** Of an audit of one sound host and one sound switch. */
let base: Ran;
const stops: (() => Promise<void>)[] = [];
beforeAll(async () => {
  site = ownSite();
  const host = await site.soundHost();
  const agent = await startAgent({ switch: plainSwitch(52) });
  site.declare(
    [sshAt('a', host.port), snmpAt('b', agent.port)],
    ['vault: { at: 127.0.0.1, access: [a] }', 'quay-sw: { at: 127.0.0.1, access: [b] }'],
  );
  base = await site.hopgauge(['survey', '--format', 'json']);
  await agent.stop();
}, 60_000);
afterEach(async () => {
  for (const stop of stops.splice(0)) await stop();
});
afterAll(() => site.stop());

const sshAt = (name: string, port: number) => `${name}: { ssh: { user: auditor, port: ${port} } }`;
const snmpAt = (name: string, port: number) =>
  `${name}: { snmp: { version: 2c, community: COMMUNITY, port: ${port} } }`;

function surveyOf({ stdout }: Ran): Survey {
  const loaded = loadSurvey(stdout, 'stdout');
  if (!loaded.ok) throw new Error(loaded.message);
  return loaded.survey;
}

/** Nodes, each by the access whose turn it is. */
const nodesBy = (count: number, accesses: readonly string[]) =>
  Array.from(
    { length: count },
    (_, at) => `n${at}: { at: 127.0.0.1, access: [${accesses[at % accesses.length]}] }`,
  );

/** `nodes`: those that cost anything. */
function told(what: string, nodes: number, ran: Ran): void {
  const beyond = (ran.peakBytes - base.peakBytes) / megabyte;
  console.log(
    `${what}: ${nodes} nodes, peak ${Math.round(ran.peakBytes / megabyte)} MB, ` +
      `${(beyond / nodes).toFixed(1)} MB a node beyond ${Math.round(base.peakBytes / megabyte)} MB`,
  );
}

describe.runIf(process.platform === 'linux')('memory is bounded (needs Linux)', () => {
  it('with nothing wrong, both nodes are read', () => {
    expect(surveyOf(base).nodes.map(({ ports }) => ports.length)).toEqual([52, 3]);
    expect(base.peakBytes).toBeGreaterThan(40 * megabyte);
  });

  it('under hosts that print for ever', { timeout: 120_000 }, async () => {
    const vices: readonly HostVice[] = [
      { is: 'flood', on: 'stdout' },
      { is: 'flood', on: 'stdout', says: 'flood\n' },
      { is: 'flood', on: 'stderr' },
    ];
    const hosts = await Promise.all(vices.map((vice) => site.host({ vice })));
    const nodes = 24;
    site.declare(
      hosts.map(({ port }, at) => sshAt(`h${at}`, port)),
      nodesBy(nodes, ['h0', 'h1', 'h2']),
    );
    const ran = await site.hopgauge(['survey', '--format', 'json']);
    told('hosts that print for ever', nodes, ran);
    const troubles = surveyOf(ran).nodes.flatMap(({ readings }) =>
      readings.map((one) => one.trouble),
    );
    expect(troubles.map((one) => one?.kind)).toEqual(Array(nodes).fill('overlong'));
    expect(troubles[0]?.seen).toBe(`127.0.0.1 printed more than ${limitBytes} bytes`);
    expect(ran.peakBytes).toBeLessThan(base.peakBytes + nodes * costMax.host * limitBytes);
  });

  it('under agents that never end, and such as flood', { timeout: 120_000 }, async () => {
    const endless = await startAgent({ switch: fullSwitch(1), vice: 'never-ends' });
    const block = Buffer.alloc(1400);
    const flooding = await answering((_, send) => {
      for (let copy = 0; copy < 2000; copy += 1) send(block);
    });
    stops.push(endless.stop, flooding.stop);
    const nodes = 4;
    site.declare(
      [snmpAt('e', endless.port), snmpAt('f', flooding.port)],
      nodesBy(nodes, ['e', 'f']),
    );
    const ran = await site.hopgauge(['survey', '--format', 'json']);
    told('agents without end', 2, ran);
    const survey = surveyOf(ran);
    for (const at of [0, 2]) {
      const { ports, gaps } = survey.nodes[at] as NodeSurvey;
      expect([ports.length > 1000, ports.length <= 8192]).toEqual([true, true]);
      // A busy machine reaches the limit of time first.
      expect(gaps['ports']?.words).toMatch(
        /^ifName: (has more than 8192 rows|the time for this node was over)$/,
      );
      expect(gaps['neighbours']?.reason).toBe('truncated');
      expect(survey.nodes[at + 1]?.readings[0]?.trouble?.kind).toBe('garbled');
    }
    expect(ran.peakBytes).toBeLessThan(base.peakBytes + 2 * costMax.agent * limitBytes);
  });
});
