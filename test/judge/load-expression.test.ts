import { describe, expect, it } from 'vitest';
import { createCelEnvironment } from '../../src/judge/cel-environment.ts';
import { loadCondition, loadExpression } from '../../src/judge/load-expression.ts';
import { subjectOf } from './subject-of.ts';

const cel = await createCelEnvironment();

function faultsOf(text: string): readonly { readonly start: number; readonly end: number }[] {
  const loaded = loadCondition(text, 'port', cel);
  return loaded.ok ? [] : loaded.faults;
}

const fact = { remedy: "write 'port.mtuBytes'", what: '`port` has no fact `mtuBtyes`' };

// Each text with the part of it at fault; `^` marks the empty part at its place.
const refusals: readonly (readonly [name: string, text: string, part: string, fault: object])[] = [
  ['a misspelt fact', 'port.mtuBtyes > 9000', 'mtuBtyes', fact],
  ['a misspelt fact on the second line', 'port.operUp &&\n  port.mtuBtyes > 1', 'mtuBtyes', fact],
  ['a misspelt fact under has()', 'has(port.mtuBtyes)', 'mtuBtyes', fact],
  [
    'a misspelt fact within a macro',
    'port.tags in [1].filter(x, port.mtuBtyes > x)',
    'mtuBtyes',
    fact,
  ],
  [
    'a fact of another subject',
    'link.judged',
    'link',
    {
      what: 'a rule that judges a port reads no fact of a link',
      remedy: 'use facts of the port, or write a rule that judges a link',
    },
  ],
  [
    'an unknown name',
    'prt.operUp',
    'prt',
    { what: 'nothing is called `prt` here', remedy: "write 'port'" },
  ],
  [
    'a subject without a fact',
    'has(port)',
    'port',
    { what: 'has() takes one fact', remedy: 'write has(port.alias)' },
  ],
  [
    'a part of a fact',
    'port.id.length > 1',
    'length',
    {
      what: '`length` is not a fact',
      remedy: 'facts have no parts: write the fact alone',
    },
  ],
  [
    'has() of a part of a fact',
    'has(port.id.x)',
    'port.id.x',
    { what: 'has() takes one fact', remedy: 'write has(port.alias)' },
  ],
  [
    'dyn()',
    'dyn(port.id) == 1',
    'dyn(port.id)',
    {
      what: '`dyn()` is not for rules',
      remedy: 'facts have types: name the fact itself',
    },
  ],
  [
    'matches()',
    'port.id.matches("(a+)+")',
    'port.id.matches("(a+)+")',
    {
      what: '`matches()` is not for rules',
      remedy: 'use startsWith, endsWith or contains',
    },
  ],
  [
    'an unknown function',
    'port.id.startWith("a")',
    'port.id.startWith("a")',
    {
      what: '`startWith()` is not for rules',
      remedy: "write 'startsWith'",
    },
  ],
  [
    'a namespace of the library',
    'cel.bind(x, 1, x == 1)',
    'cel.bind(x, 1, x == 1)',
    { what: '`bind()` is not for rules' },
  ],
  [
    'three nested walks',
    'port.tags == 0 || port.addresses.all(a, port.addresses.all(b, [1].all(c, c > 0)))',
    '[1].all(c, c > 0)',
    {
      what: 'lists walked inside each other more than 2 deep',
      remedy: 'split it into several rules',
    },
  ],
  [
    'an item named like a subject',
    'port.addresses.all(port, port == "a")',
    'port',
    { what: '`port` is the name of a subject' },
  ],
  [
    'an item that is no name',
    'port.addresses.all("a", true)',
    '"a"',
    { what: 'the first argument names the item' },
  ],
  [
    'a fact looked up by text',
    'port["operUp"]',
    'port["operUp"]',
    { what: 'a fact is not looked up by text' },
  ],
  [
    'a place in a list worked out',
    'port.addresses[size(port.id)] == "a"',
    'size(port.id)',
    {
      what: 'the place in a list must be a written number',
      remedy: 'write it as `list[0]`',
    },
  ],
  ['null', 'port.id == null', 'null', { what: 'not a number, text or condition' }],
  ['bytes', 'b"a" == b"a"', 'b"a"', { what: 'not a number, text or condition' }],
  [
    'too large a whole number',
    'port.mtuBytes == 9007199254740993',
    '9007199254740993',
    { what: 'too large a whole number' },
  ],
  ['a map', '{"a": 1} == {"a": 1}', '^', { what: 'too large an expression' }],
  ['a number beyond all', 'port.mtuBytes < 1e400', '1e400', { what: 'not a number' }],
  ['an open quote', 'port.id == "a', '"a', { what: 'the quoted text does not end' }],
  ['an open bracket', '(port.operUp', '^', { what: 'not an expression of CEL' }],
  [
    'a word for an operator',
    'port.operUp and port.adminUp',
    'and',
    { what: 'not an expression of CEL' },
  ],
  [
    'text against number',
    'port.operUp && port.id > 1',
    'port.id > 1',
    { what: 'types do not go together: string > int' },
  ],
  [
    'a number as condition',
    'port.mtuBytes && true',
    'port.mtuBytes && true',
    { what: '&&, || and ! take conditions only' },
  ],
  [
    'unlike branches',
    '(port.operUp ? port.mtuBytes : 0) > 1',
    'port.operUp ? port.mtuBytes : 0',
    {
      what: 'both branches of ?: must have one type',
      remedy: 'a number beside a fact is written with a point: 0.0',
    },
  ],
  [
    'unlike items',
    'port.mtuBytes in [1500, 9000.0]',
    '9000.0',
    { what: 'the items of a list must have one type' },
  ],
  [
    'a number for a condition',
    'port.mtuBytes',
    'port.mtuBytes',
    { what: 'not a condition: its type is double' },
  ],
  ['nothing', '', '^', { what: 'not an expression of CEL' }],
];

describe('static check of expressions', () => {
  it.each(refusals)('refuses %s at its place', (_name, text, part, fault) => {
    const [first, ...rest] = faultsOf(text);
    expect(first).toMatchObject(fault);
    if (part === '^') expect(first?.start).toBe(first?.end);
    else expect(text.slice(first?.start, first?.end)).toBe(part);
    // The same bytes literal twice is two faults; all else is one.
    expect(rest).toHaveLength(_name === 'bytes' ? 1 : 0);
  });

  it('tells all misspelt facts of an expression at once', () => {
    const text = 'port.mtuBtyes > 1 && has(port.speedMpbs)';
    expect(faultsOf(text).map(({ start, end }) => text.slice(start, end))).toEqual([
      'mtuBtyes',
      'speedMpbs',
    ]);
  });

  it.each([
    ['many nots', '!'.repeat(20_000)],
    ['many minuses', `${'-'.repeat(20_000)}1`],
    ['many brackets', '('.repeat(1_990)],
    ['many operands', Array.from({ length: 400 }, () => '1').join('<')],
    ['a long list', `1 in [${'1,'.repeat(100)}1]`],
  ])('refuses %s without failing', (_name, text) => {
    expect(faultsOf(text)).toHaveLength(1);
  });

  it('admits 2000 characters and refuses 2001', () => {
    const admitted = `port.id == "${'a'.repeat(2000 - 12 - 1)}"`;
    expect(admitted).toHaveLength(2000);
    expect(faultsOf(admitted)).toEqual([]);
    expect(faultsOf(`${admitted} `)).toMatchObject([
      { start: 2000, what: 'longer than 2000 characters' },
    ]);
  });

  it('says which facts an expression may read, in order of mention', () => {
    const loaded = loadCondition('port.operUp && has(port.id) && port.operUp', 'port', cel);
    expect(loaded.ok && loaded.value.facts).toEqual(['operUp', 'id']);
  });
});

// Values as the specification of CEL gives them, on whole numbers and doubles alike.
const port = subjectOf(
  'port',
  { mtuBytes: 9000, speedMbps: 0, id: 'sw:é', addresses: ['a', 'b'], operUp: true, tags: 1 },
  { duplex: { reason: 'denied', words: 'no' } },
);
const values: readonly (readonly [text: string, value: unknown])[] = [
  ['port.mtuBytes == 9000', true],
  ['9000 == port.mtuBytes', true],
  ['port.mtuBytes != 9000', false],
  ['port.mtuBytes in [1500, 9000]', true],
  ['1 in [1.5, 1.0]', true],
  ['port.mtuBytes + 18 == 9018', true],
  ['18 + port.mtuBytes - 1 == 9017', true],
  ['port.mtuBytes / 2', 4500],
  ['2 * port.mtuBytes', 18_000],
  ['5 / 2', 2],
  ['-5 / 2', -2],
  ['-5 % 3', -2],
  ['1 / 2 == 0', true],
  ['port.mtuBytes / port.speedMbps', undefined],
  ['5 / (size(port.addresses) - 2)', undefined],
  ['5 % 0', undefined],
  ['port.speedMbps == 0 || port.mtuBytes / port.speedMbps > 1', true],
  ['min(port.mtuBytes, 1500)', 1500],
  ['max(1, 2)', 2],
  ['size(port.id)', 4],
  ['port.addresses.size()', 2],
  ['string(port.mtuBytes) + " bytes"', '9000 bytes'],
  ['speed(10000)', '10 Gb/s'],
  ['speed(2500.0)', '2.5 Gb/s'],
  ['speed(port.speedMbps + 100)', '100 Mb/s'],
  ['port.addresses[1]', 'b'],
  ['port.addresses[2]', undefined],
  ['port.addresses + ["c"] == ["a", "b", "c"]', true],
  ['port.addresses.map(a, a == "a", size(a))', [1]],
  ['has(port.duplex)', undefined],
  ['!has(port.duplex) || port.duplex == "full"', undefined],
  ['has(port.driver)', false],
  ['has(port.mtuBytes)', true],
  ['has(port.duplex) || true', true],
];

describe('values of expressions', () => {
  it.each(values)('%s', (text, value) => {
    const loaded = loadExpression(text, 'port', cel);
    if (!loaded.ok) throw new Error(JSON.stringify(loaded.faults));
    expect(loaded.value.test(port)).toEqual(value);
    expect(loaded.value.explain(port).value).toEqual(value);
  });

  it.each(['port.mtuBytes * 1e308 > 1.0', '9007199254740991 + 1 > 0', '-9007199254740991 - 1 < 0'])(
    'fails the rule where %s has no finite value',
    (text) => {
      const loaded = loadExpression(text, 'port', cel);
      expect(() => loaded.ok && loaded.value.test(port)).toThrow(
        'the result is beyond all numbers',
      );
    },
  );
});
