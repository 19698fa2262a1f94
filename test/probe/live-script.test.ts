import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { framesOf } from '../../src/collect/unix/frames.ts';
import { AnswerStream, answerBytesMax } from '../../src/probe/live-answers.ts';
import { isPlainPort, liveCommands, liveScript } from '../../src/probe/live-script.ts';
import { commandsOf, redirectionsOf } from '../collect/unix/shell-words.ts';

const marker = 'mark-7';
const script = liveScript({ marker, ports: ['eth0', 'en7', 'eth0'], looks: 3600 });

describe('liveScript', () => {
  it('generates the first line and no other', () => {
    const [first, ...rest] = script.split('\n');
    expect(first).toBe("M='mark-7'; N='3600'; I='eth0 en7'");
    const other = liveScript({ marker: 'other', ports: ['lo'], looks: 1 });
    expect(other.split('\n').slice(1)).toEqual(rest);
  });

  it.each([
    [''],
    ['-a'],
    ['.'],
    ['../eth0'],
    ['a b'],
    ["a'b"],
    ['$(reboot)'],
    ['a;b'],
    ['a\nb'],
    ['ä'],
    ['x'.repeat(65)],
  ])('refuses the port %j', (port) => {
    expect(isPlainPort(port)).toBe(false);
    expect(() => liveScript({ marker, ports: [port], looks: 1 })).toThrow('plain name');
  });

  it.each([[0], [1.5], [Number.NaN], [86_401]])('refuses %d looks', (looks) => {
    expect(() => liveScript({ marker, ports: ['lo'], looks })).toThrow('looks');
  });

  it('refuses no port and too many', () => {
    const many = Array.from({ length: 33 }, (_, i) => `eth${i}`);
    for (const ports of [[], many]) {
      expect(() => liveScript({ marker, ports, looks: 1 })).toThrow('1 to 32 ports');
    }
  });

  it('runs what is listed, and nothing else', () => {
    const listed = liveCommands.map(({ command }) => command.split(' ')[0] ?? '');
    // With no program named, exec only gives the input another number.
    const plain = script.replace('  exec 4<&0\n', '');
    expect([...new Set(commandsOf(plain))].sort()).toEqual([...new Set(listed)].sort());
  });

  it('sends no signal and writes to no file', () => {
    expect(script.match(/\bkill\b.*/g)).toEqual(['kill -0 "$e" 2>/dev/null; do']);
    const found = redirectionsOf(script);
    expect(found.length).toBeGreaterThan(5);
    for (const redirection of found) {
      expect(redirection).toMatch(
        /^(?:2>&1|>&3|3>&1|3>&-|4<&0|<&4|>&-|2>&-|2>\/dev\/null|<\/dev\/null)$/,
      );
    }
    expect(script.replace('exec 4<&0', '')).not.toMatch(
      /\b(?:rm|mv|cp|tee|touch|mkdir|chmod|sudo|su|eval|exec|source|nohup|dd|curl|wget)\b/,
    );
  });
});

const shells = [
  ['dash', ['dash', '-s']],
  ['bash', ['bash', '-s']],
  ['busybox ash', ['busybox', 'sh', '-s']],
] as const;

describe.runIf(process.platform === 'linux')('run for real (needs Linux)', () => {
  /** Runs a script, ends its input once `looks` answers came, and gives what it left. */
  function run([command = '', ...args]: readonly string[], text: string, looks: number) {
    if (!existsSync(`/usr/bin/${command}`)) throw new Error(`${command} is not installed`);
    return new Promise<{ code: number | null; answers: Uint8Array[]; stderr: string }>(
      (resolve) => {
        const shell = spawn(command, args, { stdio: ['pipe', 'pipe', 'pipe'] });
        const stream = new AnswerStream(marker);
        const answers: Uint8Array[] = [];
        let stderr = '';
        shell.stderr.on('data', (chunk: Buffer) => {
          stderr += chunk.toString();
        });
        shell.stdout.on('data', (chunk: Buffer) => {
          const taken = stream.take(chunk);
          if (taken.ok) answers.push(...taken.whole);
          if (answers.length >= looks) shell.stdin.end();
        });
        // Both outputs are closed: nothing that it started holds them any more.
        shell.on('close', (code) => resolve({ code, answers, stderr }));
        shell.stdin.write(text);
      },
    );
  }

  it.each(shells)('%s ends with its input', async (_, command) => {
    const text = liveScript({ marker, ports: ['lo'], looks: 86_400 });
    const { code, answers, stderr } = await run(command, text, 2);
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    expect(answers.length).toBeGreaterThanOrEqual(2);
    expect(answers.length).toBeLessThan(6);
    for (const answer of answers) {
      const framed = framesOf(answer, marker);
      expect(framed.whole).toBe(true);
      expect([...framed.sections.keys()]).toEqual(['system ', 'uptime ', 'sysfs lo', 'ethtool lo']);
    }
  });

  it.each(shells)('%s ends with its looks, its input open', async (_, command) => {
    const text = liveScript({ marker, ports: ['lo'], looks: 2 });
    const { code, answers } = await run(command, text, 2);
    expect({ code, answers: answers.length }).toEqual({ code: 0, answers: 2 });
  });
});

describe('AnswerStream', () => {
  const text =
    'noise\nmark-7 begin 1\n\nmark-7 end\n\nmark-7 begin 1\nx mark-7 end\n\nmark-7 end\nrest';
  const whole = [
    'noise\nmark-7 begin 1\n\nmark-7 end\n',
    '\nmark-7 begin 1\nx mark-7 end\n\nmark-7 end\n',
  ];

  it('cuts the same answers wherever the stream is cut', () => {
    for (let at = 0; at <= text.length; at += 1) {
      const stream = new AnswerStream(marker);
      const found = [text.slice(0, at), text.slice(at)].flatMap((part) => {
        const answers = stream.take(Buffer.from(part));
        return answers.ok ? answers.whole : [];
      });
      expect(found.map((each) => Buffer.from(each).toString())).toEqual(whole);
      expect(Buffer.from(stream.pending).toString()).toBe('rest');
    }
  });

  it('gives up on an answer without end', () => {
    const stream = new AnswerStream(marker);
    expect(stream.take(Buffer.alloc(answerBytesMax, 'x')).ok).toBe(true);
    expect(stream.take(Buffer.from('x')).ok).toBe(false);
  });
});
