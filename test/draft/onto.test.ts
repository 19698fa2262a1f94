import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { planOnto } from '../../src/draft/onto.ts';
import type { Draft } from '../../src/draft/types.ts';
import { agent } from './sketch.ts';

const draft: Draft = {
  site: 'Saltmarsh survey office',
  readAt: '2026-11-25T02:00:00.000Z',
  access: [agent],
  nodes: [{ name: 'quay-sw', access: ['switches'], known: '' }],
  segments: [],
  links: [
    { ends: ['vault:eth4', 'quay-sw:xg3'], tagged: [], known: 'LLDP on both ends', questions: [] },
  ],
  paths: [{ name: 'plotting', from: 'plot-1', to: 'vault', over: 'storage', known: '' }],
  notRead: [],
  questions: [],
  counts: { read: 1, linksByLldp: 1, linksByForwarding: 0 },
};

/** The file with every insertion at its place, those of one place in their order. */
function patched(source: string): unknown {
  const { insertions } = planOnto(source, draft);
  const lines = source.trimEnd().split('\n');
  return parse(
    [0, ...lines.map((_, at) => at + 1)]
      .flatMap((at) => [
        ...(at === 0 ? [] : [lines[at - 1] ?? '']),
        ...insertions.filter(({ after }) => after === at).flatMap((each) => each.lines),
      ])
      .join('\n'),
  );
}

describe('where the things of a draft go', () => {
  it.each([
    ['nodes last', 'intent: 1\nsite: a\nnodes:\n  vault: {}\n', ['vault', 'quay-sw']],
    ['paths last', 'nodes:\n  vault: {}\npaths:\n  old: {}\n', ['vault', 'quay-sw']],
    ['policies last', 'nodes:\n  vault: {}\npolicies: [essential]\n', ['vault', 'quay-sw']],
    ['no section at all', 'intent: 1\n', ['quay-sw']],
  ])('%s: each entry is in its own section', (_, source, nodes) => {
    const found = patched(source) as Record<string, Record<string, unknown>>;
    expect(Object.keys(found['access'] ?? {})).toEqual(['switches']);
    expect(Object.keys(found['nodes'] ?? {})).toEqual(nodes);
    expect(found['links']).toMatchObject([{ ends: ['vault:eth4', 'quay-sw:xg3'] }]);
    expect(Object.keys(found['paths'] ?? {}).at(-1)).toBe('plotting');
  });
});
