import { PassThrough } from 'node:stream';
import { describe, expect, it } from 'vitest';
import { askOnTerminal } from '../../../src/collect/secrets/ask-on-terminal.ts';

const canary = 'canary-77-ebb';

describe('askOnTerminal', () => {
  function terminal() {
    const modes: boolean[] = [];
    const interrupts: string[] = [];
    const input = Object.assign(new PassThrough(), {
      isTTY: true,
      setRawMode: (raw: boolean) => modes.push(raw),
    });
    const output = Object.assign(new PassThrough(), { isTTY: true });
    const interrupt = () => interrupts.push('interrupted');
    return { input, output, interrupt, modes, interrupts };
  }

  it.each([
    ['a word', `${canary}\r`, canary],
    ['a line feed at the end', `${canary}\n`, canary],
    ['corrections', `caX\u007fnary\r`, 'canary'],
    ['a line begun anew', `wrong\u0015right\r`, 'right'],
    ['letters of several bytes', 'Lände\u{1f30a}\r', 'Lände\u{1f30a}'],
    ['nothing', '\r', undefined],
    ['the end of input', 'half\u0004', undefined],
    ['arrows and tabs, which are no letters', 'a\tb\r', 'ab'],
  ])('takes %s', async (_name, keys, answer) => {
    const { input, output, interrupt, modes } = terminal();
    const ask = askOnTerminal({ input, output, interrupt });
    const asked = ask?.('secret A (not shown)');
    await new Promise((resolve) => setImmediate(resolve));
    for (const byte of Buffer.from(keys)) input.write(Buffer.from([byte]));
    expect((await asked)?.reveal()).toBe(answer);
    expect(output.read()?.toString()).toBe('secret A (not shown): \n');
    expect(modes).toEqual([true, false]);
  });

  it('interrupts the run at the wish of the person, and gives the terminal back', async () => {
    const { input, output, interrupt, modes, interrupts } = terminal();
    const asked = askOnTerminal({ input, output, interrupt })?.('A');
    input.write('ab\u0003');
    expect(await asked).toBeUndefined();
    expect([interrupts, modes]).toEqual([['interrupted'], [true, false]]);
  });

  it('asks one question after the other', async () => {
    const { input, output, interrupt } = terminal();
    const ask = askOnTerminal({ input, output, interrupt });
    const answers = [ask?.('A'), ask?.('B')];
    for (const text of ['one\r', 'two\r']) {
      await new Promise((resolve) => setImmediate(resolve));
      input.write(text);
      await new Promise((resolve) => setImmediate(resolve));
    }
    const given = await Promise.all(answers);
    expect(given.map((secret) => secret?.reveal())).toEqual(['one', 'two']);
    expect(output.read()?.toString()).toBe('A: \nB: \n');
  });

  it.each([
    ['input', { isTTY: false }, {}],
    ['output', {}, { isTTY: false }],
  ])('is not there where the %s is no terminal', (_name, inputMore, outputMore) => {
    const { input, output, interrupt } = terminal();
    Object.assign(input, inputMore);
    Object.assign(output, outputMore);
    expect(askOnTerminal({ input, output, interrupt })).toBeUndefined();
  });
});
