import { describe, expect, it } from 'vitest';
import { dictionary } from '../../src/facts/dictionary.ts';
import type { FactType } from '../../src/facts/entry.ts';
import { stableJson } from '../../src/facts/json.ts';
import { subjectsOf } from '../../src/site/subjects-of.ts';
import type { Site } from '../../src/site/types.ts';
import { plottingSite } from './plotting-site.ts';

function typeOf(value: unknown): FactType | 'none' {
  if (typeof value === 'number') return Number.isFinite(value) ? 'number' : 'none';
  if (typeof value === 'string') return 'text';
  if (typeof value === 'boolean') return 'flag';
  if (!Array.isArray(value)) return 'none';
  if (value.every((item) => typeof item === 'number')) return 'numbers';
  return value.every((item) => typeof item === 'string') ? 'texts' : 'none';
}

const trouble = { kind: 'silent', seen: 'no answer', remedy: 'look' } as const;
const sites: readonly (readonly [string, Site])[] = [
  ['healthy', plottingSite()],
  ['small', plottingSite({ xg3: { mtuBytes: 1500 } })],
  ['doubtful', plottingSite({ xg2: { mtuBytes: 1500 }, xg3: { mtuBytes: 1500 } })],
  ['unread', plottingSite({ nodes: { 'quay-sw': { unread: 'switch' } } })],
  ['strict', plottingSite({ nodes: { 'quay-sw': { unread: 'switch' } }, strict: true })],
  ['silent', plottingSite({ readings: { 'quay-sw': { trouble }, vault: { trouble } } })],
  ['not joined', plottingSite({ intent: { links: { 'plot-1:desk - quay-sw:xg2': {} } } })],
  ['not linked', plottingSite({ intent: { links: {} } })],
];

describe('every fact of every subject', () => {
  it.each(sites)('has the name and type of the dictionary: %s', (_, site) => {
    for (const { kind, facts, own, shared, id } of subjectsOf(site)) {
      const entries = dictionary[kind];
      for (const [name, value] of Object.entries(facts)) {
        const type = entries[name]?.type;
        const empty = Array.isArray(value) && value.length === 0;
        expect([id, name, empty ? type : typeOf(value)]).toEqual([id, name, type]);
        expect([id, name, own?.gaps[name]]).toEqual([id, name, undefined]);
      }
      for (const name of [...Object.keys(own?.gaps ?? {}), ...Object.keys(shared.gaps)])
        expect([id, name, entries[name] !== undefined]).toEqual([id, name, true]);
    }
  });

  it.each(sites)(
    'that the dictionary never lets be absent is there or has a reason: %s',
    (_, site) => {
      for (const { kind, facts, own, shared, id } of subjectsOf(site)) {
        for (const [name, entry] of Object.entries(dictionary[kind])) {
          if (entry.origin === 'read' || entry.absentWhen !== undefined) continue;
          const known = facts[name] !== undefined || (own?.gaps[name] ?? shared.gaps[name]);
          // What nobody reads and the owner vouches for expects nothing to be read.
          const onWord = facts['unread'] === true;
          expect([id, name, Boolean(known) || onWord]).toEqual([id, name, true]);
        }
      }
    },
  );

  it('is the same, byte for byte, each time', () => {
    expect(stableJson(subjectsOf(plottingSite()))).toBe(stableJson(subjectsOf(plottingSite())));
  });
});
