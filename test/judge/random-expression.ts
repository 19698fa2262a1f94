import fc from 'fast-check';
import type { FactValue } from '../../src/facts/entry.ts';
import { nestedMacrosMax } from '../../src/judge/inspect-expression.ts';

type Kind = 'bool' | 'double' | 'int' | 'string' | 'texts';
type Make = (depth: number, items: readonly string[]) => fc.Arbitrary<string>;

const facts = {
  bool: ['link.judged', 'link.speedsEqual', 'link.duplexesEqual'],
  double: ['link.declaredSpeedMbps'],
  string: ['link.id', 'link.lag', 'link.labels'],
  texts: ['link.ends', 'link.duplexes'],
} as const;

const names = ['judged', 'lag', 'ends', 'declaredSpeedMbps', 'speedsMbps', 'labels'];
const texts = ['', 'a', 'ab', 'full', 'half', 'é'];
const doubles = [0, 1, 2.5, 100, 1000, 10_000];

/** Facts of a link, any of them absent. */
export const linkFacts: fc.Arbitrary<Record<string, FactValue>> = fc.record(
  {
    judged: fc.boolean(),
    speedsEqual: fc.boolean(),
    duplexesEqual: fc.boolean(),
    declaredSpeedMbps: fc.constantFrom(...doubles),
    id: fc.constantFrom(...texts),
    lag: fc.constantFrom(...texts),
    labels: fc.constantFrom(...texts),
    ends: fc.array(fc.constantFrom(...texts), { maxLength: 3 }),
    duplexes: fc.array(fc.constantFrom(...texts), { maxLength: 3 }),
    speedsMbps: fc.array(fc.constantFrom(...doubles), { maxLength: 3 }),
  },
  { requiredKeys: [] },
);

/** A well-typed condition over facts of a link, in the part of CEL that rules may use. */
export const linkCondition: fc.Arbitrary<string> = fc
  .integer({ min: 1, max: 4 })
  .chain((depth) => make('bool', depth, []));

const known = new Map<string, fc.Arbitrary<string>>();

function make(kind: Kind, depth: number, items: readonly string[]): fc.Arbitrary<string> {
  const key = `${kind} ${depth} ${items.length}`;
  const before = known.get(key);
  if (before !== undefined) return before;
  const made = makers[kind](depth, items);
  known.set(key, made);
  return made;
}

function joined(
  kinds: readonly Kind[],
  write: (...parts: string[]) => string,
  [depth, items]: [number, readonly string[]],
): fc.Arbitrary<string> {
  return fc.tuple(...kinds.map((kind) => make(kind, depth - 1, items))).map((p) => write(...p));
}

const quoted = fc.constantFrom(...texts).map((text) => `"${text}"`);
const written = fc.constantFrom(...doubles).map((n) => (Number.isInteger(n) ? `${n}.0` : `${n}`));
const comparison = fc.constantFrom('<', '<=', '>', '>=', '==', '!=');

function between(kind: Kind, other: Kind, depth: number, items: readonly string[]) {
  return fc
    .tuple(make(kind, depth - 1, items), comparison, make(other, depth - 1, items))
    .map((parts) => `(${parts.join(' ')})`);
}

function macro(
  name: string,
  kind: 'bool' | 'string',
  depth: number,
  items: readonly string[],
): fc.Arbitrary<string>[] {
  if (items.length >= nestedMacrosMax) return [];
  const item = `v${items.length}`;
  return [
    fc
      .tuple(make('texts', depth - 1, items), make(kind, depth - 1, [...items, item]))
      .map(([list, inner]) => `${list}.${name}(${item}, ${inner})`),
  ];
}

const makers: Readonly<Record<Kind, Make>> = {
  bool: (depth, items) => {
    const flat = [
      fc.constantFrom('true', 'false', ...facts.bool),
      fc.constantFrom(...names).map((name) => `has(link.${name})`),
    ];
    if (depth <= 0) return fc.oneof(...flat);
    const at: [number, readonly string[]] = [depth, items];
    return fc.oneof(
      ...flat,
      { weight: 4, arbitrary: joined(['bool', 'bool'], (a, b) => `(${a} && ${b})`, at) },
      { weight: 4, arbitrary: joined(['bool', 'bool'], (a, b) => `(${a} || ${b})`, at) },
      joined(['bool'], (a) => `!${a}`, at),
      joined(['bool', 'bool', 'bool'], (a, b, c) => `(${a} ? ${b} : ${c})`, at),
      between('double', 'double', depth, items),
      between('double', 'int', depth, items),
      between('int', 'int', depth, items),
      between('string', 'string', depth, items),
      joined(['string', 'string'], (a, b) => `${a}.startsWith(${b})`, at),
      joined(['string', 'string'], (a, b) => `${a}.endsWith(${b})`, at),
      joined(['string', 'string'], (a, b) => `${a}.contains(${b})`, at),
      joined(['string', 'texts'], (a, b) => `(${a} in ${b})`, at),
      joined(['double'], (a) => `(${a} in [100, 1000])`, at),
      joined(['double'], (a) => `(${a} in link.speedsMbps)`, at),
      joined(['texts', 'texts'], (a, b) => `(${a} == ${b})`, at),
      ...macro('exists', 'bool', depth, items),
      ...macro('all', 'bool', depth, items),
      ...macro('exists_one', 'bool', depth, items),
    );
  },
  double: (depth, items) => {
    const flat = [written, fc.constantFrom(...facts.double, 'link.speedsMbps[0]')];
    if (depth <= 0) return fc.oneof(...flat);
    const at: [number, readonly string[]] = [depth, items];
    return fc.oneof(
      ...flat,
      joined(['double', 'double'], (a, b) => `(${a} + ${b})`, at),
      joined(['double', 'double'], (a, b) => `(${a} - ${b})`, at),
      joined(['double', 'double'], (a, b) => `(${a} * ${b})`, at),
      joined(['double'], (a) => `(${a} / 4.0)`, at),
      joined(['double'], (a) => `-(${a})`, at),
      joined(['bool', 'double', 'double'], (a, b, c) => `(${a} ? ${b} : ${c})`, at),
    );
  },
  int: (depth, items) => {
    const flat = fc.constantFrom('0', '1', '2', '7');
    if (depth <= 0) return flat;
    const at: [number, readonly string[]] = [depth, items];
    return fc.oneof(
      flat,
      joined(['texts'], (a) => `size(${a})`, at),
      joined(['string'], (a) => `${a}.size()`, at),
      joined(['int', 'int'], (a, b) => `(${a} + ${b})`, at),
      joined(['int', 'int'], (a, b) => `(${a} - ${b})`, at),
      joined(['int', 'int'], (a, b) => `(${a} / ${b})`, at),
      joined(['int', 'int'], (a, b) => `(${a} % ${b})`, at),
    );
  },
  string: (depth, items) => {
    const flat = [quoted, fc.constantFrom(...facts.string, ...items)];
    if (depth <= 0) return fc.oneof(...flat);
    const at: [number, readonly string[]] = [depth, items];
    return fc.oneof(
      ...flat,
      joined(['string', 'string'], (a, b) => `(${a} + ${b})`, at),
      joined(['texts'], (a) => `${a}[1]`, at),
    );
  },
  texts: (depth, items) => {
    const flat = fc.constantFrom<string>(...facts.texts, '["a", "half"]');
    if (depth <= 0) return flat;
    return fc.oneof(
      { weight: 3, arbitrary: flat },
      joined(['string', 'string'], (a, b) => `[${a}, ${b}]`, [depth, items]),
      ...macro('filter', 'bool', depth, items),
      ...macro('map', 'string', depth, items),
    );
  },
};
