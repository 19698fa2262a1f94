import { describe, expect, it } from 'vitest';
import { linkFinder, ratedOf } from '../../src/report/link-rating.ts';
import type { SiteLink } from '../../src/site/types.ts';
import { aggregated } from './saltmarsh.ts';
import { hop, subject } from './samples.ts';

const [first] = aggregated.site.links;
if (first === undefined) throw new Error('the sample has no link');
const rated = (ratedMbps: number | undefined): SiteLink => ({
  ...first,
  subject: subject('link', first.declared.id, { ratedMbps }),
});
const on = (sketch: object) =>
  hop({ port: 'a:1', distance: 0, link: first.declared.id, ...sketch });

describe('what a link is meant to run at', () => {
  it.each([
    ['declared at the port', on({ facts: { declaredSpeedMbps: 2500 } }), rated(10_000), 2500],
    ['what its link is rated for', on({}), rated(10_000), 10_000],
    ['neither known', on({}), rated(undefined), undefined],
    ['no such link', on({}), undefined, undefined],
    ['no end of a link', hop({ port: 'a:1', distance: 0 }), rated(10_000), undefined],
    ['a layer', on({ layer: true, facts: { declaredSpeedMbps: 2500 } }), rated(10_000), undefined],
  ])('%s', (_, of, link, mbps) => {
    expect(ratedOf(of, () => link)).toBe(mbps);
  });

  it('is found by the id of the link', () => {
    const linkOf = linkFinder(aggregated.site);
    expect(linkOf(first.declared.id)).toBe(first);
    expect(linkOf('no - such')).toBeUndefined();
  });
});
