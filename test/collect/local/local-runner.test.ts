import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { localRunner } from '../../../src/collect/local/local-runner.ts';
import { readHost } from '../../../src/collect/read-host.ts';
import { scriptFor } from '../../../src/collect/script-for.ts';
import { defaultReadLimits, type NodeReading, type RunScript } from '../../../src/collect/types.ts';
import { everyTopic } from '../../../src/facts/read-topics.ts';

const never = new AbortController().signal;

async function run(script: string, limits: Partial<typeof defaultReadLimits> = {}) {
  return localRunner()(script, { ...defaultReadLimits, ...limits }, never);
}

async function output(script: string): Promise<string> {
  const outcome = await run(script);
  if (!outcome.ok) throw new Error(outcome.trouble.seen);
  return new TextDecoder().decode(outcome.output);
}

describe('localRunner', () => {
  it('gives what the script prints, and neither its errors nor its status', async () => {
    expect(await output('echo one; echo two >&2; exit 3\n')).toBe('one\n');
  });

  it('hands on no environment of the operator', async () => {
    process.env['HOPGAUGE_TEST_SECRET'] = 'x';
    const names = (await output('env\n')).split('\n').map((line) => line.split('=')[0]);
    expect(names).toContain('PATH');
    expect(names).not.toContain('HOPGAUGE_TEST_SECRET');
    expect(names).not.toContain('HOME');
  });

  const timeOver = (wholeMs: number) => ({
    ok: false,
    trouble: {
      kind: 'time-over',
      seen: `this machine was not read within ${wholeMs} ms`,
      remedy: 'raise the time limit, or see which command hangs with --show-commands',
    },
  });

  it('ends the whole group when the time is over', async () => {
    expect(await run('sleep 60 & sleep 60\n', { wholeMs: 200 })).toEqual(timeOver(200));
  });

  it('gives what had come when the time is over', async () => {
    const outcome = await run('echo one; sleep 60\n', { wholeMs: 2000 });
    const came = { output: Buffer.from('one\n') };
    expect(outcome).toEqual({ ...timeOver(2000), came });
  });

  it('ends a script that floods', async () => {
    const outcome = await run('while :; do echo yyyyyyyyyyyyyyyy; done\n', {
      outputBytesMax: 10_000,
    });
    expect(outcome.ok ? '' : outcome.trouble.kind).toBe('overlong');
  });

  it('stops on the signal, before and during the run', async () => {
    const before = AbortSignal.abort();
    const early = await localRunner()('echo one\n', defaultReadLimits, before);
    expect(early.ok ? '' : early.trouble.kind).toBe('time-over');
    const controller = new AbortController();
    const late = localRunner()('sleep 60\n', defaultReadLimits, controller.signal);
    controller.abort();
    const outcome = await late;
    expect(outcome.ok ? '' : outcome.trouble.seen).toBe('stopped before this machine was read');
  });

  it('bears a script that ends before it is read whole', async () => {
    expect(await output(`echo one; exit 0\n${'# filler\n'.repeat(100_000)}`)).toBe('one\n');
  });
});

describe('readHost', () => {
  it('adds the verified host key', async () => {
    const script: RunScript = async (text, limits, signal) => {
      const outcome = await localRunner()(text, limits, signal);
      return outcome.ok ? { ...outcome, hostKey: 'SHA256:abc' } : outcome;
    };
    const outcome = await readHost(
      script,
      { peers: [], topics: everyTopic },
      defaultReadLimits,
      never,
    );
    expect(outcome.ok ? outcome.reading.facts.hostKey : '').toBe('SHA256:abc');
  });

  it('hands on the trouble of the transport', async () => {
    const trouble = { kind: 'refused', seen: 'x', remedy: 'y' } as const;
    const run: RunScript = async () => ({ ok: false, trouble });
    expect(
      await readHost(run, { peers: [], topics: everyTopic }, defaultReadLimits, never),
    ).toEqual({
      ok: false,
      trouble,
    });
  });

  it('uses another marker in every run', async () => {
    const markers: string[] = [];
    const run: RunScript = async (script) => {
      markers.push(/^M='([^']+)'/.exec(scriptFor(script, 'sh'))?.[1] ?? '');
      return { ok: true, output: new Uint8Array() };
    };
    for (let i = 0; i < 3; i += 1)
      await readHost(run, { peers: [], topics: everyTopic }, defaultReadLimits, never);
    expect(new Set(markers).size).toBe(3);
    expect(markers[0]).toMatch(/^hopgauge-[0-9a-f]{24}$/);
  });
});

/** The reference is what `ip` and `ethtool` of this machine print, run by hand. */
describe.runIf(process.platform === 'linux')('this machine (needs Linux)', () => {
  async function reading(): Promise<NodeReading> {
    const outcome = await readHost(
      localRunner(),
      { peers: ['127.0.0.1'], topics: everyTopic },
      defaultReadLimits,
      never,
    );
    if (!outcome.ok) throw new Error(outcome.trouble.seen);
    return outcome.reading;
  }

  interface HandLink {
    readonly ifname: string;
    readonly ifindex: number;
    readonly mtu: number;
    readonly min_mtu: number;
    readonly max_mtu: number;
    readonly flags: readonly string[];
    readonly link_type: string;
    readonly address: string;
  }

  interface HandAddress {
    readonly ifname: string;
    readonly addr_info: readonly {
      readonly local: string;
      readonly prefixlen: number;
      readonly scope: string;
    }[];
  }

  function hand<T>(args: readonly string[]): T {
    const text = execFileSync('/usr/sbin/ip', args, { encoding: 'utf8' });
    return JSON.parse(text) as T;
  }

  it('has the ports, sizes and states of ip', async () => {
    const { ports } = await reading();
    const links = hand<HandLink[]>(['-j', '-d', 'link']);
    expect(ports.map(({ name }) => name).sort()).toEqual(links.map((link) => link.ifname).sort());
    for (const link of links) {
      const facts = ports.find(({ name }) => name === link.ifname)?.facts;
      const has = (flag: string) => link.flags.includes(flag);
      expect(facts, link.ifname).toMatchObject({
        ifIndex: link.ifindex,
        mtuBytes: link.mtu,
        adminUp: has('UP'),
        operUp: has('UP') && has('LOWER_UP'),
      });
      expect(facts?.mtuMaxBytes).toBe(link.max_mtu === 0 ? undefined : link.max_mtu);
      expect(facts?.mtuMinBytes).toBe(link.min_mtu === 0 ? undefined : link.min_mtu);
      expect(facts?.macAddress).toBe(link.link_type === 'ether' ? link.address : undefined);
    }
  });

  it('has the addresses of ip', async () => {
    const { ports } = await reading();
    for (const { ifname, addr_info } of hand<HandAddress[]>(['-j', 'addr'])) {
      const addresses = addr_info
        .filter(({ scope }) => scope !== 'link')
        .map(({ local, prefixlen }) => `${local}/${prefixlen}`);
      expect(ports.find(({ name }) => name === ifname)?.facts.addresses).toEqual(addresses);
    }
  });

  it('has the driver of ethtool for every port that it was asked of', async () => {
    const { ports } = await reading();
    for (const { name, facts } of ports.filter((port) => port.facts.driver !== undefined)) {
      const text = execFileSync('/usr/sbin/ethtool', ['-i', name], { encoding: 'utf8' });
      expect(text).toContain(`driver: ${facts.driver}\n`);
    }
  });

  it('sends to itself by its loopback', async () => {
    expect((await reading()).routes).toEqual([
      { to: '127.0.0.1', device: 'lo', from: '127.0.0.1' },
    ]);
  });
});
