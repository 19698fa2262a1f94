import { describe, expect, it } from 'vitest';
import { createCelEnvironment } from '../../src/judge/cel-environment.ts';
import { loadTemplate } from '../../src/judge/load-template.ts';
import { subjectOf } from './subject-of.ts';

const cel = await createCelEnvironment();
const port = subjectOf(
  'port',
  {
    mtuBytes: 9000,
    speedMbps: 0.1 + 0.2,
    declaredSpeedMbps: 2.5,
    operUp: false,
    alias: 'a\u001b[31mred\nline',
    addresses: ['a', 'b'],
    segments: [],
    lowerPorts: Array.from({ length: 15 }, (_, i) => `p${i}`),
  },
  { duplex: { reason: 'denied', words: 'no' } },
);

function load(text: string) {
  const loaded = loadTemplate(text, 'port', cel);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.faults));
  return loaded.value;
}

describe('templates', () => {
  it.each([
    ['no parts', 'no parts'],
    ['at {port.mtuBytes} of 9018 bytes', 'at 9000 of 9018 bytes'],
    ['{port.mtuBytes}{port.declaredSpeedMbps}', '90002.5'],
    ['{port.speedMbps}', '0.3'],
    ['{port.mtuBytes - 18}', '8982'],
    ['{port.addresses}', 'a, b'],
    ['{port.segments}', 'none'],
    ['{port.lowerPorts}', 'p0, p1, p2, p3, p4, p5, p6, p7, p8, p9, p10, p11 and 3 more'],
    ['{size(port.lowerPorts)}', '15'],
    ['{port.operUp}', 'no'],
    ['{{literal}} }} {{', '{literal} } {'],
    ['{port.operUp ? "}" : "{ up"}', '{ up'],
    ["{port.operUp ? 'a' : 'it\\'s }'}", "it's }"],
    ['seen {port.alias}', 'seen a [31mred line'],
    ['over\n  two lines', 'over two lines'],
  ])('%s', (text, rendered) => {
    expect(load(text).render(port)).toEqual({ text: rendered, complete: true });
  });

  it.each([
    ['a fact that could not be read', 'is {port.duplex}', 'is (unknown)'],
    ['a fact that nothing gives', '{port.driver}: {port.mtuBytes}', '(unknown): 9000'],
    ['a division by zero', '{1 / (size(port.segments))}', '(unknown)'],
    ['a result beyond all numbers', '{port.mtuBytes * 1e308}', '(unknown)'],
  ])('prints (unknown) for %s', (_name, text, rendered) => {
    expect(load(text).render(port)).toEqual({ text: rendered, complete: false });
  });

  it('leaves out what could not be read where it leaves out what was never expected', () => {
    const text = "runs{has(port.duplex) ? ' in ' + port.duplex + ' duplex' : ''}";
    expect(load(text).render(port)).toEqual({ text: 'runs', complete: false });
    const told = "runs in {has(port.duplex) ? port.duplex : 'no'} duplex";
    expect(load(told).render(port)).toEqual({ text: 'runs in (unknown) duplex', complete: false });
  });

  it('keeps a sentence of our own whole', () => {
    const sentence = `${'TCP agrees on packets of 9000 bytes; '.repeat(20)}the last word`;
    expect(load('{port.alias}').render(subjectOf('port', { alias: sentence })).text).toBe(sentence);
  });

  it('cuts what is too long', () => {
    const long = subjectOf('port', {
      lowerPorts: Array.from({ length: 12 }, () => 'x'.repeat(250)),
    });
    expect(load('{port.lowerPorts}').render(long).text).toHaveLength(2000);
  });

  it.each([
    ['a misspelt fact', 'at {port.mtuBtyes}', 'mtuBtyes', '`port` has no fact `mtuBtyes`'],
    [
      'the second of two',
      '{port.mtuBytes} {link.id}',
      'link',
      'a rule that judges a port reads no fact of a link',
    ],
    ['nothing', 'a {} b', '', 'not an expression of CEL'],
    ['an open brace', 'a {port.id', '{port.id', '`{` without `}`'],
    ['a brace in a brace', 'a {{ {port.id{}', '{port.id{}', '`{` without `}`'],
    ['a closing brace alone', 'a } b', '}', '`}` without `{`'],
    ['a quote that does not end', '{"a}', '{"a}', '`{` without `}`'],
    ['a whole subject', '{port}', 'port', '`port` alone has no value'],
    [
      'a list of lists',
      '{[port.addresses]}',
      '[port.addresses]',
      'a value of type list<list<string>> cannot be printed',
    ],
  ])('refuses %s', (_name, text, part, what) => {
    const loaded = loadTemplate(text, 'port', cel);
    const [fault] = loaded.ok ? [] : loaded.faults;
    expect(fault?.what).toBe(what);
    expect(text.slice(fault?.start, fault?.end)).toBe(part);
  });

  it('tells all faults at once', () => {
    const loaded = loadTemplate('{port.x} } {port.y}', 'port', cel);
    expect(loaded.ok ? [] : loaded.faults.map(({ start }) => start)).toEqual([9, 6, 17]);
  });
});
