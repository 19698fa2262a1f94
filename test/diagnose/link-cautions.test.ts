import { describe, expect, it } from 'vitest';
import { linkCautions } from '../../src/diagnose/link-cautions.ts';
import { viewLink } from '../../src/diagnose/link-view.ts';
import { buildSite } from '../../src/site/build-site.ts';
import type { Site } from '../../src/site/types.ts';
import { makeIntent, makeSurvey } from '../site/builders.ts';
import { cable, type LinkCase, linkSite } from './fault-site.ts';

function cautionsOf(site: Site): readonly string[] {
  const [link] = site.links;
  if (link === undefined) throw new Error('the site has no link');
  return linkCautions(viewLink(site, link));
}

const session = { local: '198.18.20.11', remote: '198.18.20.2', count: 2 };
const desk = { addresses: ['198.18.20.11/24'] };

describe('cautions', () => {
  const rows: readonly (readonly [string, LinkCase, readonly RegExp[]])[] = [
    ['a cord alone', {}, []],
    ['fibre', { link: { run: [cable('fibre', 'om3', 9)] } }, [/^light in fibre/]],
    ['a module that measures light', { desk: { rxPowerDbm: -3 } }, [/^light in fibre/]],
    ['a cable in the wall', { link: { run: [cable('wall', 'cat6a', 9)] } }, [/^cable in walls/]],
    [
      'a live session',
      { desk, host: { sessions: [session] } },
      [/^2 live sessions of plot-1: pause them/],
    ],
    [
      'live storage',
      {
        desk,
        host: {
          sessions: [{ ...session, count: 1 }],
          mounts: [{ server: '198.18.20.2', kind: 'nfs', at: '/plots' }],
        },
      },
      [/^one live session of plot-1, among them storage mounted at \/plots: pause it before/],
    ],
    [
      'a session over another port',
      { desk, host: { sessions: [{ ...session, local: '192.0.2.9' }] } },
      [],
    ],
    [
      'a session with itself',
      { desk, host: { sessions: [{ ...session, remote: '127.0.0.1' }] } },
      [],
    ],
  ];
  it.each(rows)('%s', (_name, of, expected) => {
    const said = cautionsOf(linkSite(of));
    expect(said).toHaveLength(expected.length);
    for (const [at, pattern] of expected.entries()) expect(said[at]).toMatch(pattern);
  });

  it.each([
    ['phone', 1],
    ['printer', 0],
  ] as const)('a port that may power a %s', (unread, count) => {
    const intent = makeIntent({
      nodes: { 'quay-sw': {}, bell: { unread } },
      links: { 'quay-sw:g1 - bell:lan': { run: [cable('cord', 'cat5e', 3)] } },
    });
    const survey = makeSurvey({ 'quay-sw': { ports: { g1: {} } } });
    const said = cautionsOf(buildSite(intent, survey, { strict: false }));
    expect(said.filter((each) => each.startsWith('quay-sw:g1 may power bell'))).toHaveLength(count);
  });
});
