import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { forcedScript } from '../../src/cli/forced-script.ts';
import { run } from '../../src/cli/run.ts';
import { parseUnixOutput } from '../../src/collect/unix/parse-unix-output.ts';
import { unixScript } from '../../src/collect/unix/unix-script.ts';
import { fakeRun } from './fake-io.ts';

const timeoutMs = 15_000;
const marker = 'hopgauge-0123456789abcdef01234567';

/** Runs the script as sshd would: as a program, with what the client sends on its input. */
function answerTo(input: string): string {
  return execFileSync('sh', ['-c', forcedScript('0.1.0')], {
    input,
    encoding: 'utf8',
    timeout: timeoutMs,
    stdio: ['pipe', 'pipe', 'ignore'],
  });
}

describe('the script for a forced command', () => {
  it('is printed by access --print-script, without any intent', async () => {
    const fake = fakeRun();
    expect(await run(['access', '--print-script'], fake.io)).toBe(0);
    expect(fake.stdout()).toMatch(/^#!\/bin\/sh\n# hopgauge \d+\.\d+\.\d+: /);
    expect(fake.stdout()).toContain('restrict,command=');
  });

  it('reads this machine when it is sent what a reading sends', () => {
    const output = answerTo(unixScript({ marker, peers: ['127.0.0.1'] }));
    const parsed = parseUnixOutput(Buffer.from(output), marker);
    expect(parsed.ok && parsed.reading.ports.map(({ name }) => name)).toContain('lo');
    expect(parsed.ok && parsed.reading.routes.map(({ to }) => to)).toContain('127.0.0.1');
  });

  it('answers the trial of access with its mark', () => {
    expect(answerTo('echo door-0123456789abcdef\n')).toBe('door-0123456789abcdef\n');
  });

  const refused = [
    ['nothing', '', ''],
    ['a command', 'id\n', 'this account only answers hopgauge\n'],
    ['a mark with a command', 'echo door-00$(id)\n', ''],
    ['a marker that is none', "M='x'; P=''\n", ''],
    ['a marker with a command', "M='hopgauge-$(id)'; P=''\n", ''],
    ['addresses with a command', "M='hopgauge-00'; P='127.0.0.1 $(id)'\n", ''],
    ['a command behind the line', "M='hopgauge-00'; P=''; id; P='1'\n", ''],
  ] as const;
  for (const [name, input, output] of refused) {
    it(`does nothing for ${name}`, () => expect(answerTo(input)).toBe(output));
  }

  it('runs nothing that stands after the first line', () => {
    const output = answerTo(`M='${marker}'; P=''\necho mischief\n`);
    expect(output).toContain(marker);
    expect(output).not.toContain('mischief');
  });
});
