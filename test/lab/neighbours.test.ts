import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadSurvey } from '../../src/facts/saved-survey.ts';
import type { Survey } from '../../src/facts/survey.ts';
import { audit, brokenIn, causesIn } from './harness/audit.ts';
import { ipByHand } from './harness/by-hand.ts';
import { hopgauge, writeRunFile } from './harness/cli.ts';
import { serveForwardingTable } from './harness/forwarding-table.ts';
import { type IntentDraft, intentFor } from './harness/intent.ts';
import { type Lab, startLab, stopLab } from './harness/lab.ts';
import { ipBatch } from './harness/namespaces.ts';
import { fdbByHand, lldpByHand, talk, untilLldpTells } from './harness/neighbourhood.ts';
import { macOf, planFor } from './harness/plan.ts';
import { linkDown } from './harness/topology.ts';

let lab: Lab;
beforeAll(async () => {
  lab = await startLab(planFor({ secondWay: true, router: true }));
  for (const name of ['quay', 'loft']) await serveForwardingTable(lab, name);
  await untilLldpTells(lab, 2);
  await talk(lab);
});
afterAll(() => stopLab(lab));

/** With the policy that judges neighbours; virtual ports have no speed to judge. */
function withCabling(draft: IntentDraft): void {
  draft.policies = ['essential', 'jumbo', 'cabling'];
}

async function survey(): Promise<Survey> {
  const file = writeRunFile(lab, 'neighbours.yaml', intentFor(lab, withCabling));
  const ran = await hopgauge(lab, ['survey', file, '--format', 'json', '--quiet']);
  const loaded = loadSurvey(ran.stdout, 'survey');
  if (!loaded.ok) throw new Error(`${loaded.message}: ${ran.stderr}`);
  return loaded.survey;
}

describe('who is really at the other end', () => {
  it('is what LLDP and the tables of the bridges tell by hand', async () => {
    const { nodes } = await survey();
    for (const [name, far] of [
      ['quay', 'loft'],
      ['loft', 'quay'],
    ] as const) {
      const node = nodes.find((each) => each.node === name);
      const heard = (node?.neighbours ?? []).map(
        ({ port, systemName, portId }) => `${port} ${systemName} ${portId}`,
      );
      const ports = ['xg8', 'xg9'] as const;
      const cords = ports.map((port) => `${port} ${far} ${macOf(lab.plan, [far, port])}`);
      expect(heard.sort()).toEqual(cords);
      expect(await lldpByHand(lab.machine(name))).toEqual(cords);
      const byHand = await fdbByHand(lab, name);
      const learnt = (node?.forwarding ?? []).flatMap(({ port, macs }) =>
        macs.flatMap((mac): [string, string][] => (byHand.has(mac) ? [[mac, port]] : [])),
      );
      expect(new Map(learnt)).toEqual(byHand);
    }
  });

  it('is as declared, and the blocked way is named', async () => {
    const { report } = await audit(lab, intentFor(lab, withCabling));
    expect(causesIn(report)).toEqual([]);
    const idle = report.paths[0]?.hops.filter(({ idleBecause }) => idleBecause !== undefined);
    expect(idle?.map(({ port, idleBecause }) => [port, idleBecause])).toEqual([
      ['quay:xg9', 'spanning-tree'],
      ['loft:xg9', 'spanning-tree'],
    ]);
    const file = writeRunFile(lab, 'ways.yaml', intentFor(lab, withCabling));
    const { stdout } = await hopgauge(lab, ['audit', file]);
    expect(stdout.replace(/\s+/g, ' ')).toContain('not in use: spanning tree blocks it');
  });

  it('is found at the other port when two cords at a switch are swapped, in one finding', async () => {
    // Names change places: what was plugged into xg1 is now in xg5, and the other way round.
    const loft = lab.machine('loft');
    await linkDown(lab, ['loft', 'xg1']);
    await linkDown(lab, ['loft', 'xg5']);
    await ipBatch(loft, [
      'link set xg1 name spare',
      'link set xg5 name xg1',
      'link set spare name xg5',
      'link set xg1 up',
      'link set xg5 up',
    ]);
    // An agent keeps the names that it knew when it began.
    await serveForwardingTable(lab, 'loft');
    await untilLldpTells(lab, 2);
    await talk(lab);
    const { report, status } = await audit(lab, intentFor(lab, withCabling));
    expect(brokenIn(report)).toEqual([
      'neighbour-as-declared loft:xg1',
      'neighbour-as-declared loft:xg5',
    ]);
    expect(causesIn(report)).toEqual(['link gate:eth0 - loft:xg5: broken']);
    const [first] = report.findings;
    expect(first?.what).toBe(
      'declared vault:eth0, heard gate:eth0 there; vault:eth0 is found on loft:xg5',
    );
    expect(status).toBe(1);
  });

  it('is named as a detour when the fast way is blocked', async () => {
    // veth has one speed for all: the agents are made to say that the cord in use is slow.
    for (const name of ['quay', 'loft']) {
      const [{ ifindex } = {}] = await ipByHand(lab.machine(name), ['link', 'show', 'dev', 'xg8']);
      const column = '1.3.6.1.2.1.31.1.1.1.15';
      await serveForwardingTable(lab, name, [`override ${column}.${ifindex} uinteger 1000`]);
    }
    const slow = (draft: IntentDraft) => {
      withCabling(draft);
      for (const link of draft.links) {
        const ends = JSON.stringify(link['ends']);
        if (ends.includes('xg8')) link['speed'] = '1G';
        // The cords that were swapped are now declared as they are.
        if (ends.includes('loft:xg1')) link['ends'] = ['vault:eth0', 'loft:xg5'];
        if (ends.includes('loft:xg5')) link['ends'] = ['gate:eth0', 'loft:xg1'];
      }
    };
    await untilLldpTells(lab, 2);
    await talk(lab);
    const { report } = await audit(lab, intentFor(lab, slow));
    expect(brokenIn(report)).toEqual(['best-way-open plotting']);
    expect(report.findings.find(({ rule }) => rule === 'best-way-open')?.what).toContain(
      'the spanning tree blocks loft:xg9',
    );
  });
});
