import { describe, expect, it } from 'vitest';
import { pathVerdict } from '../../src/report/path-words.ts';
import type { AuditResult } from '../../src/report/types.ts';
import type { SitePath } from '../../src/site/types.ts';
import { aggregated, alternatives, healthy } from './saltmarsh.ts';

/** The path of a sample with facts of some of its ports as given. */
function pathWith(
  result: AuditResult,
  facts: Readonly<Record<string, Readonly<Record<string, boolean>>>>,
): SitePath {
  const [path] = result.site.paths;
  if (path === undefined) throw new Error('the sample has no path');
  const hops = path.hops.map((hop) => {
    const { port } = hop;
    const subject = { ...port.subject, facts: { ...port.subject.facts, ...facts[port.id] } };
    return { ...hop, port: { ...port, subject } };
  });
  return { ...path, hops };
}

const down = { operUp: false };
const elsewhere = { neighbourDeclared: false };
const pass = 'the declared 9000 bytes pass every hop';

describe('what a path carries', () => {
  it.each<[string, SitePath, string]>([
    [
      'with its only cord pulled',
      pathWith(healthy, { 'quay-sw:xg2': down }),
      `no link at quay-sw:xg2; were it up: ${pass}`,
    ],
    [
      'with another cord plugged in',
      pathWith(healthy, { 'quay-sw:xg2': elsewhere }),
      `another cord is plugged in at quay-sw:xg2; were it as declared: ${pass}`,
    ],
    [
      'with one member of an aggregate down',
      pathWith(aggregated, { 'quay-sw:xg3': down, 'vault:eth4': down }),
      `${pass}; one TCP flow can reach 9.9 Gb/s; no link at quay-sw:xg3, vault:eth4, which it can do without`,
    ],
    [
      'with both members down',
      pathWith(aggregated, { 'quay-sw:xg3': down, 'vault:eth5': down }),
      `no link at quay-sw:xg3, vault:eth5; were it up: ${pass}`,
    ],
    [
      'with another cord in a spare way',
      pathWith(alternatives, { 'quay-sw:Port 4': elsewhere }),
      `${pass}; one TCP flow can reach 9.9 Gb/s; another cord is plugged in at quay-sw:Port 4, which it can do without`,
    ],
    [
      'with the first link down, which all ways share',
      pathWith(alternatives, { 'plot-1:desk': down }),
      `no link at plot-1:desk; were it up: ${pass}`,
    ],
  ])('%s', (_, path, words) => {
    expect(pathVerdict(path)).toBe(words);
  });
});
