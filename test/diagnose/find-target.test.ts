import { describe, expect, it } from 'vitest';
import { findTarget, targetName } from '../../src/diagnose/find-target.ts';
import { lagSite } from './fault-site.ts';

const site = lagSite({});
const linkIds = (links: readonly number[]) => links.map((at) => site.links[at]?.declared.id);

describe('the target of an explanation', () => {
  const desk = 'plot-1:en7 - quay-sw:xg2';
  const eth4 = 'vault:eth4 - quay-sw:xg3';
  const eth5 = 'vault:eth5 - quay-sw:xg4';
  const rows: readonly (readonly [string, string, readonly string[]])[] = [
    ['plot-1:en7', 'port', [desk]],
    ['quay-sw:xg2', 'port', [desk]],
    [desk, 'link', [desk]],
    ['vault', 'node', [eth4, eth5]],
    ['vault:bond0', 'port', [eth4, eth5]],
    ['quay-sw', 'node', [desk, eth4, eth5]],
    ['storage', 'segment', [desk, eth4, eth5]],
    ['plotting', 'path', [desk, eth4, eth5]],
  ];
  it.each(rows)('%s is a %s', (name, kind, links) => {
    const found = findTarget(site, name);
    if (!found.ok) throw new Error(`${name} was not found`);
    expect(found.target.kind).toBe(kind);
    expect(linkIds(found.target.links)).toEqual(links);
    expect(targetName(site, found.target)).toBe(name);
  });

  const wrong: readonly (readonly [string, string | undefined])[] = [
    ['ploting', 'plotting'],
    ['vault:eth6', 'vault:eth4'],
    ['quay_sw', 'quay-sw'],
    ['nothing like it at all', undefined],
    ['', undefined],
    ['x'.repeat(5000), undefined],
  ];
  it.each(wrong)('%s is none; the nearest is %s', (name, nearest) => {
    expect(findTarget(site, name)).toEqual({
      ok: false,
      ...(nearest === undefined ? {} : { nearest }),
    });
  });
});
