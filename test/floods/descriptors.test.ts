import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startAgent } from '../../mocks/snmp-agent/start-agent.ts';
import { parseJson } from '../../src/facts/json.ts';
import { reportSchema } from '../../src/report/report-schema.ts';
import { plainSwitch } from '../collect/snmp/quay-switch.ts';
import { type OwnSite, ownSite } from './own-site.ts';

// More nodes than descriptors, at several sites in one run, with a history: hosts by our own SSH, each
// with its question to `ssh -G`, some by the system's ssh, and switches. All on loopback.

const sites = ['quay', 'loft', 'depot', 'pier'];
const hostsEach = 76;
const bySystemEach = 4;
const switchesEach = 80;
const nodes = sites.length * (hostsEach + bySystemEach + switchesEach);
const limit = 256;

let site: OwnSite;
const stops: (() => Promise<void>)[] = [];
beforeAll(async () => {
  site = ownSite();
  const host = await site.soundHost();
  site.configure(['Host h*', '  HostName 127.0.0.1', `  Port ${host.port}`]);
  const described = plainSwitch(2);
  for (const name of sites) {
    const agents = await Promise.all(
      Array.from({ length: switchesEach }, () => startAgent({ switch: described })),
    );
    stops.push(...agents.map(({ stop }) => stop));
    const hosts = (count: number, stem: string, access: string) =>
      Array.from(
        { length: count },
        (_, at) => `${stem}${at}: { at: ${stem}-${name}-${at}, access: [${access}] }`,
      );
    site.declare(
      [
        'own: { ssh: { user: auditor } }',
        'system: { ssh: { user: auditor, through: system } }',
        'switches: { snmp: { version: 2c, community: COMMUNITY } }',
      ],
      [
        ...hosts(hostsEach, 'h', 'own'),
        ...hosts(bySystemEach, 'hs', 'system'),
        ...agents.map(({ port }, at) => `s${at}: { at: "127.0.0.1:${port}", access: [switches] }`),
      ],
      name,
    );
  }
}, 60_000);
afterAll(async () => {
  for (const stop of stops) await stop();
  await site.stop();
});

/** Why nodes of a site were not read, by what its report says, each once. */
function unreadAt(name: string): { readonly nodes: number; readonly troubles: readonly string[] } {
  const text = readFileSync(join(site.home, `report-${name}.json`), 'utf8');
  const report = reportSchema.parse(parseJson(text));
  const readings = report.nodes.flatMap((node) => node.readings);
  const troubles = readings.flatMap(({ trouble }) => (trouble === undefined ? [] : [trouble.seen]));
  return { nodes: readings.length, troubles: [...new Set(troubles)] };
}

describe.runIf(process.platform === 'linux')('file descriptors are bounded (needs Linux)', () => {
  it('reads 640 nodes of four sites where 256 files may be open', {
    timeout: 120_000,
  }, async () => {
    const files = sites.map((name) => `${name}.yaml`);
    const out = ['--format', 'json', '--out', 'report-{site}.json'];
    const ran = await site.hopgauge(['audit', ...files, ...out], `ulimit -n ${limit}`);
    const each = { nodes: nodes / sites.length, troubles: [] };
    expect(sites.map(unreadAt)).toEqual(sites.map(() => each));
    expect(ran.code).toBe(0);
    // Else nothing was tried: one more than the 48 nodes of one site.
    expect(ran.openMax).toBeGreaterThan(100);
    expect(ran.openMax).toBeLessThan(limit);
    console.log(`640 nodes: at most ${ran.openMax} of ${limit} descriptors`);
  });

  it('keeps a history under the same limit', { timeout: 60_000 }, async () => {
    const argv = ['audit', 'quay.yaml', '--changes', '--store', 'state/history.sqlite'];
    const ran = await site.hopgauge(argv, `ulimit -n ${limit}`);
    expect(ran.stdout).toContain('first audit in this history; nothing is found');
    expect([ran.code, ran.openMax < limit]).toEqual([0, true]);
  });
});
