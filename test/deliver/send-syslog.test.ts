import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { describe, expect, it } from 'vitest';
import { sendSyslog } from '../../src/deliver/send-syslog.ts';
import { syslogMessage } from '../../src/report/syslog-message.ts';
import { readFrames, readMessage } from '../report/syslog-text.ts';
import { datagramReceiver, deafPort, streamReceiver } from './receivers.ts';

const never = new AbortController().signal;
const local = '127.0.0.1';
const messages = ['<131>1 - - - - - - one', '<131>1 - - - - - - zwölf\nwith a line'];

describe('syslog over TCP', () => {
  it('counts octets, not characters, and delivers all in order', async () => {
    const { port, whole } = await streamReceiver();
    expect(await sendSyslog(messages, { over: 'tcp', address: local, port }, never)).toEqual({
      ok: true,
    });
    const stream = await whole;
    expect(readFrames(stream)).toEqual(messages);
    expect(stream.toString('utf8').startsWith('22 <131>1 - - - - - - one37 <')).toBe(true);
  });

  it('delivers as many as there can be', async () => {
    const { port, whole } = await streamReceiver();
    const many = Array.from({ length: 1000 }, (_, index) => `${index} ${'x'.repeat(2000)}`);
    const to = { over: 'tcp', address: local, port } as const;
    expect(await sendSyslog(many, to, never)).toEqual({ ok: true });
    expect(readFrames(await whole)).toEqual(many);
  });

  it('says that nothing listens', async () => {
    const to = { over: 'tcp', address: local, port: await deafPort() } as const;
    expect(await sendSyslog(messages, to, never)).toEqual({
      ok: false,
      reason: 'refused: nothing listens there',
    });
  });

  it('ends with the time of the run', async () => {
    const { port } = await streamReceiver();
    const over = AbortSignal.abort();
    expect(await sendSyslog(messages, { over: 'tcp', address: local, port }, over)).toEqual({
      ok: false,
      reason: 'the time of the run is over',
    });
  });

  it('opens nothing where there is nothing to tell', async () => {
    const to = { over: 'tcp', address: local, port: await deafPort() } as const;
    expect(await sendSyslog([], to, never)).toEqual({ ok: true });
  });
});

describe('syslog over UDP', () => {
  it('is one datagram for each message', async () => {
    const receiver = await datagramReceiver(2);
    const to = { over: 'udp', address: local, port: receiver.port } as const;
    expect(await sendSyslog(messages, to, never)).toEqual({ ok: true });
    expect(await receiver.messages).toEqual(messages);
  });

  it('ends with the time of the run', async () => {
    const to = { over: 'udp', address: local, port: await deafPort() } as const;
    const cut = await sendSyslog(messages, to, AbortSignal.abort());
    expect(cut).toEqual({ ok: false, reason: 'the time of the run is over' });
  });
});

const logger = spawnSync('logger', ['--version'], { encoding: 'utf8' });

/** Only the logger of util-linux speaks RFC 5424; elsewhere the run says that this was left out. */
describe.skipIf(!/util-linux/.test(logger.stdout ?? ''))('next to logger of util-linux', () => {
  it('has the same frame, priority, type and structured data', async () => {
    const theirs = await streamReceiver();
    const data = ['--sd-id', 'finding@32473', '--sd-param', 'subject="a \\"b\\" \\] \\\\"'];
    const argv = ['-n', local, '-P', `${theirs.port}`, '--tcp', '--octet-count', '--rfc5424=notq'];
    const child = spawn(
      'logger',
      [...argv, '-p', 'local4.notice', '-t', 'hopgauge', '--msgid', 'new', ...data, 'one'],
      { stdio: 'ignore' },
    );
    const [status] = await once(child, 'close');
    expect(status).toBe(0);
    const [wire = ''] = readFrames(await theirs.whole);
    const their = readMessage(wire);
    const our = readMessage(
      syslogMessage(
        { kind: 'new', severity: 'notice', params: [['subject', 'a "b" ] \\']], text: 'one' },
        { facility: 20, at: '2026-11-25T02:00:00.000Z', host: 'vault', processId: 1 },
      ),
    );
    expect([our.priority, our.app, our.type]).toEqual([their.priority, their.app, their.type]);
    expect(our.data['finding@32473']).toEqual(their.data['finding@32473']);
    expect(our.text).toBe(`\ufeff${their.text}`);
  });
});
