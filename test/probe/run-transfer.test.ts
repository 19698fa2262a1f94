import { describe, expect, it } from 'vitest';
import type { OpenTalk, TalkEnd } from '../../src/collect/talk.ts';
import { runTransfer, type TransferRun } from '../../src/probe/run-transfer.ts';
import { measuredOf } from '../../src/probe/transfer-measured.ts';
import { notDone } from '../../src/report/transfer-not-done.ts';

/** A host of a made-up network: what it is, and what it answers to its part. */
interface Sketch {
  readonly system?: string;
  readonly tool?: string;
  /** Lines after its part has come, by `listen` and `connect`. */
  readonly answers: Readonly<Record<string, readonly string[]>>;
}

interface Fake {
  readonly open: OpenTalk;
  readonly parts: string[];
  readonly stopped: () => number;
}

function fake({ system = 'Linux', tool = 'perl', answers }: Sketch): Fake {
  const parts: string[] = [];
  let stops = 0;
  const open: OpenTalk = ({ script, onOutput, signal }) => {
    const marker = /^M='([^']+)'/.exec(script)?.[1] ?? '';
    const say = (line: string) => onOutput(Buffer.from(`${marker} ${line}\n`));
    let settle: (end: TalkEnd) => void = () => undefined;
    const ended = new Promise<TalkEnd>((resolve) => {
      settle = resolve;
    });
    const stop = () => {
      stops += 1;
      settle('stopped');
    };
    signal.addEventListener('abort', stop);
    queueMicrotask(() => {
      for (const line of ['begin 1', `system ${system}`, `with ${tool}`]) say(line);
    });
    const send = (text: string) => {
      const [first = ''] = text.split('\n');
      parts.push(first);
      const role = first.includes("'listen'") ? 'listen' : 'connect';
      queueMicrotask(() => {
        for (const line of answers[role] ?? []) say(line);
      });
    };
    return Promise.resolve({ ok: true, talk: { send, ended, complaint: () => '' } });
  };
  return { open, parts, stopped: () => stops };
}

const ended = ['tick 1000 125000000 300 0', 'sent 2000000 250000000 time', 'end'];
const received = ['tick 1000 125000000 - -', 'got 2000000 250000000 whole', 'end'];
const sends: Sketch['answers'] = { listen: ['port 4001', ...ended], connect: ended };
const receives: Sketch['answers'] = { listen: ['port 4002', ...received], connect: received };
const refused: Sketch['answers'] = { ...sends, connect: ['failed connect refused'] };

async function run(from: Fake, to: Fake, more: { signal?: AbortSignal; streams?: number } = {}) {
  const heard: string[] = [];
  const done = await runTransfer({
    from: { name: 'plot-1', address: '198.18.20.1', open: from.open },
    to: { name: 'vault', address: '198.18.20.7', open: to.open },
    ...{ seconds: 3, bytesMax: 1e9, streams: more.streams ?? 2 },
    signal: more.signal ?? new AbortController().signal,
    onListen: (...words) => heard.push(words.join(' ')),
  });
  return { done, heard };
}
const listenerOf = (done: TransferRun) => (done.ok ? done.listener : undefined);

describe('who listens', () => {
  it('is the receiver, which is told the one address that it lets in', async () => {
    const [from, to] = [fake({ answers: sends }), fake({ answers: receives })];
    const { done, heard } = await run(from, to);
    expect(listenerOf(done)).toBe('to');
    expect(heard).toEqual(['vault 198.18.20.7 4002']);
    expect(to.parts).toHaveLength(1);
    expect(to.parts[0]).toMatch(
      /role=>'listen',way=>'receive',own=>'198.18.20.7',peer=>'198.18.20.1',port=>0,/,
    );
    expect(from.parts[0]).toMatch(
      /role=>'connect',way=>'send',own=>'198.18.20.1',peer=>'198.18.20.7',port=>4002,/,
    );
    const token = /token=>'([0-9a-f]{32})'/;
    expect(token.exec(from.parts[0] ?? '')?.[1]).toBe(token.exec(to.parts[0] ?? '')?.[1]);
    expect([from.stopped(), to.stopped()]).toEqual([1, 1]);
  });

  it('is the other where the receiver is not reached', async () => {
    const { done, heard } = await run(fake({ answers: refused }), fake({ answers: receives }));
    expect(listenerOf(done)).toBe('from');
    expect(done.missed).toEqual([{ listener: 'to', why: 'refused' }]);
    expect(heard).toEqual(['vault 198.18.20.7 4002', 'plot-1 198.18.20.1 4001']);
  });

  it('is neither where neither is reached', async () => {
    const closed = { listen: ['port 4001'], connect: ['failed connect silent'] };
    const { done } = await run(fake({ answers: closed }), fake({ answers: closed }));
    expect(done.ok).toBe(false);
    expect(done.missed).toEqual([
      { listener: 'to', why: 'silent' },
      { listener: 'from', why: 'silent' },
    ]);
  });

  it('is tried once more where a port was taken, and then the other', async () => {
    const taken = { listen: ['failed bind other'], connect: received };
    const { done } = await run(fake({ answers: sends }), fake({ answers: taken }));
    expect(done.missed.map(({ why }) => why)).toEqual(['bind', 'bind']);
    expect(listenerOf(done)).toBe('from');
  });

  it('is never a host with macOS, whichever way the payload goes', async () => {
    const mac = (answers: Sketch['answers']) => fake({ system: 'Darwin', answers });
    const toMac = await run(fake({ answers: sends }), mac(receives));
    expect([listenerOf(toMac.done), toMac.done.missed]).toEqual(['from', []]);
    const fromMac = await run(mac(sends), fake({ answers: receives }));
    expect(listenerOf(fromMac.done)).toBe('to');
    const both = await run(mac(sends), mac(receives));
    expect(both.done).toMatchObject({ ok: false, missed: [] });
  });

  it('is only a receiver with nc, over one plain connection on a private port', async () => {
    const [from, to] = [fake({ answers: sends }), fake({ tool: 'nc', answers: receives })];
    const { done } = await run(from, to);
    expect(done.ok && [done.listener, done.streams]).toEqual(['to', 1]);
    expect(Number(/P='(\d+)'/.exec(to.parts[0] ?? '')?.[1])).toBeGreaterThanOrEqual(49_152);
    expect(from.parts[0]).toMatch(/streams=>1,.*plain=>1\)/);
    const missed = await run(fake({ tool: 'nc', answers: refused }), fake({ answers: receives }));
    expect(missed.done).toMatchObject({ ok: false, missed: [{ listener: 'to', why: 'refused' }] });
  });
});

describe('a run that ends early', () => {
  it('is not tried the other way round once the two have met', async () => {
    const lost = { ...sends, connect: ['idle least=5', 'failed lost reset'] };
    const { done } = await run(
      fake({ answers: lost }),
      fake({ answers: { listen: ['port 4002'] } }),
    );
    expect(done).toMatchObject({ ok: true, listener: 'to', missed: [], from: { met: true } });
    const names = { from: 'plot-1', to: 'vault', toAddress: '198.18.20.7' };
    expect(measuredOf(done, names)).toBeUndefined();
    expect(notDone(done, names).seen).toBe(
      'the two met, and plot-1 then lost the connection: reset',
    );
  });

  it('gives what had passed when it is interrupted', async () => {
    const stop = new AbortController();
    const endless = { listen: ['port 4002', 'tick 1000 125000000 - -'], connect: [] };
    const from = fake({ answers: { connect: ['tick 1000 125000000 300 0'] } });
    const begun = run(from, fake({ answers: endless }), { signal: stop.signal });
    setTimeout(() => stop.abort(), 50);
    const { done } = await begun;
    const names = { from: 'plot-1', to: 'vault', toAddress: '198.18.20.7' };
    expect(measuredOf(done, names)).toMatchObject({
      whole: false,
      ...{ bytes: 125e6, tookSeconds: 1, goodputMbps: 1000 },
    });
  });

  it('says which end has nothing to transfer with', async () => {
    const { done } = await run(fake({ tool: 'nothing', answers: {} }), fake({ answers: receives }));
    expect(done).toMatchObject({ ok: false, from: { tool: 'nothing' }, missed: [] });
  });

  it('says which end could not be begun', async () => {
    const trouble = { kind: 'login-refused', seen: 'no', remedy: 'do' } as const;
    const shut: OpenTalk = () => Promise.resolve({ ok: false, trouble });
    const to = fake({ answers: receives });
    const { done } = await run({ ...to, open: shut }, to);
    expect(done).toMatchObject({ ok: false, at: 'from', trouble });
    expect(to.stopped()).toBe(1);
  });
});
