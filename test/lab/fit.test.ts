import { mkdirSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { scriptFor } from '../../src/collect/script-for.ts';
import type { RunScript } from '../../src/collect/types.ts';
import { planFor as sizesFor } from '../../src/probe/fit-plan.ts';
import { fitLimits, runFit } from '../../src/probe/run-fit.ts';
import { type FitDirection, type FitWay, settleFits } from '../../src/probe/settle-fits.ts';
import { inNs, ipBatch, mustInNs } from './harness/namespaces.ts';
import { dataAddress, type PlanEnd, planFor } from './harness/plan.ts';
import {
  buildTopology,
  restoreTopology,
  setMtu,
  type Topology,
  takeDown,
} from './harness/topology.ts';

let lab: Topology;
beforeAll(async () => {
  lab = await buildTopology(planFor({ router: true }));
});
afterAll(() => takeDown(lab));
beforeEach(() => restoreTopology(lab));

const never = new AbortController().signal;

/** Runs the script of a fit in a machine, by the shell that sshd would start. */
function scriptsOn(node: string, path = '/usr/sbin:/usr/bin:/sbin:/bin'): RunScript {
  return async (script) => {
    const env = { PATH: path };
    const ran = await inNs(lab.machine(node), ['/bin/sh', '-s'], {
      input: scriptFor(script, 'sh'),
      env,
    });
    expect(ran.stderr).toBe('');
    return { ok: true, output: new TextEncoder().encode(ran.stdout) };
  };
}

type Ends = readonly [from: string, to: string];

async function wayOf([from, to]: Ends, run: RunScript, bytes: number): Promise<FitWay> {
  const toAddress = dataAddress(lab.node(to));
  const request = { toAddress, plan: sizesFor(bytes, toAddress) };
  const outcome = await runFit(run, request, fitLimits, never);
  return { from, to, toAddress, at: '2026-11-25T02:00:00.000Z', outcome };
}

/** Fits both ways at once, to be quick; the command makes one after the other. */
async function fitted(
  [from, to]: Ends = ['plot', 'vault'],
  { runFrom = scriptsOn(from), bytes = 9000 } = {},
): Promise<readonly [FitDirection, FitDirection]> {
  const [there, back] = await Promise.all([
    wayOf([from, to], runFrom, bytes),
    wayOf([to, from], scriptsOn(to), bytes),
  ]);
  return settleFits([there, back], bytes);
}

const shown = ({ provenBytes, provenByReply, loss, stands }: FitDirection) => ({
  stands,
  proven: provenBytes,
  byReply: provenByReply,
  loss,
});
const silence = (bytes: number) => ({ bytes, by: 'silence', eitherWay: true }) as const;
const own = { bytes: 2000, by: 'interface', mtuBytes: 1500, device: 'eth0', eitherWay: false };

describe('a fit between two hosts with two switches between them', () => {
  const met = { stands: 'met', proven: 9000, byReply: false, loss: undefined };
  const lost = { stands: 'broken', proven: 1500, byReply: false, loss: silence(2000) };
  const rows: readonly (readonly [PlanEnd | undefined, object, object])[] = [
    [undefined, met, met],
    [['quay', 'xg1'], lost, lost],
    [['quay', 'xg8'], lost, lost],
    [['loft', 'xg8'], lost, lost],
    [['loft', 'xg1'], lost, lost],
    [['plot', 'eth0'], { ...lost, loss: own }, lost],
    [['vault', 'eth0'], lost, { ...lost, loss: own }],
  ];
  it.each(rows)('%s at 1500', async (port, there, back) => {
    if (port !== undefined) await setMtu(lab, port, 1500);
    expect((await fitted()).map(shown)).toEqual([there, back]);
  });

  it('finds the size that an MTU passes which counts header and FCS', async () => {
    // A cable of the lab takes 4 bytes more than its MTU: 8978 stands for 8982, 18 below 9000.
    await setMtu(lab, ['loft', 'xg1'], 8978);
    const found = { stands: 'broken', proven: 8982, byReply: false, loss: silence(8986) };
    expect((await fitted()).map(shown)).toEqual([found, found]);
  });

  it('knows a route MTU, and that the answers of that host come in pieces', async () => {
    await ipBatch(lab.machine('vault'), ['route add 198.18.20.11/32 dev eth0 mtu 1500']);
    const [there, back] = await fitted();
    await ipBatch(lab.machine('vault'), ['route del 198.18.20.11/32']);
    expect(shown(there)).toEqual(met);
    const route = { bytes: 2000, by: 'route', mtuBytes: 1500, eitherWay: false };
    expect(shown(back)).toEqual({ ...lost, loss: route });
  });

  it('takes the word of the other end where a ping cannot forbid pieces (BusyBox)', async () => {
    const folder = join(lab.directory, 'busybox');
    mkdirSync(folder, { recursive: true });
    symlinkSync('/usr/bin/busybox', join(folder, 'ping'));
    const runFrom = scriptsOn('plot', `${folder}:/usr/sbin:/usr/bin:/sbin:/bin`);
    const [there, back] = await fitted(['plot', 'vault'], { runFrom });
    expect([there, back].map(shown)).toEqual([{ ...met, byReply: true }, met]);
    expect(sizes(there)).toEqual([1500, 2000, 9000].map((size) => [size, 'cannot-tell', 0]));
    await setMtu(lab, ['plot', 'eth0'], 1500);
    expect(shown((await fitted(['plot', 'vault'], { runFrom }))[0])).toEqual({
      ...lost,
      byReply: true,
      loss: own,
    });
  });
});

const sizes = ({ outcome }: FitDirection) =>
  outcome.ok
    ? outcome.fit.sizes.map(({ sizeBytes, verdict, tries }) => [sizeBytes, verdict.kind, tries])
    : [];

/** What nftables of a machine drops; gives what lets it through again. */
async function dropping(node: string, hook: string, what: string): Promise<() => Promise<void>> {
  const chain = `type filter hook ${hook} priority 0; policy accept; ${what} drop;`;
  const rules = `table inet fit {\nchain drops {\n${chain.replaceAll('; ', '\n')}\n}\n}\n`;
  await mustInNs(lab.machine(node), ['nft', '-f', '-'], { input: rules });
  return async () => {
    await mustInNs(lab.machine(node), ['nft', 'delete', 'table', 'inet', 'fit']);
  };
}

describe('a fit where ICMP is filtered', () => {
  it('proves both ways by one end, where the other answers no ping but sends its own', async () => {
    const open = await dropping('vault', 'input', 'icmp type echo-request');
    const [there, back] = await fitted();
    await open();
    expect(shown(there)).toEqual({ stands: 'met', proven: 9000, byReply: true, loss: undefined });
    expect(shown(back)).toEqual({ stands: 'met', proven: 9000, byReply: false, loss: undefined });
    const kinds = [576, 1500].map((size) => [size, 'cannot-tell', 3]);
    expect(sizes(there)).toEqual([...kinds, [2000, 'cannot-tell', 0], [9000, 'cannot-tell', 0]]);
  });

  it('cannot tell where a host drops all of it, and accuses nobody', async () => {
    const open = await dropping('vault', 'input', 'meta l4proto icmp');
    const both = await fitted();
    await open();
    const nothing = {
      ...{ stands: 'undetermined', proven: undefined, byReply: false, loss: undefined },
    };
    expect(both.map(shown)).toEqual([nothing, nothing]);
  });
});

describe('a fit through a router whose other network is at 1500', () => {
  const forget = (node: string) => ipBatch(lab.machine(node), ['route flush cache']);
  beforeEach(async () => {
    await setMtu(lab, ['gate', 'eth1'], 1500);
    await setMtu(lab, ['attic', 'eth0'], 1500);
    await forget('plot');
  });

  it('names the router and its MTU; then what the host keeps of that word', async () => {
    const [there, back] = await fitted(['plot', 'attic']);
    const router = { bytes: 2000, by: 'router', mtuBytes: 1500, router: '198.18.20.21' };
    expect(shown(there)).toEqual({
      ...{ stands: 'broken', proven: 1500, byReply: false },
      loss: { ...router, eitherWay: false },
    });
    expect(shown(back)).toMatchObject({ stands: 'broken', proven: 1500, loss: own });
    const [again] = await fitted(['plot', 'attic']);
    expect(again.loss).toEqual({ bytes: 2000, by: 'learnt', mtuBytes: 1500, eitherWay: false });
  });

  it('hears nothing of a router that may not speak', async () => {
    const open = await dropping('gate', 'output', 'icmp type destination-unreachable');
    const [there] = await fitted(['plot', 'attic']);
    await open();
    expect(shown(there)).toEqual({
      ...{ stands: 'broken', proven: 1500, byReply: false, loss: silence(2000) },
    });
  });
});
