import { describe, expect, it } from 'vitest';
import { explainFigure } from '../../src/diagnose/explain-figure.ts';
import { parseFigure } from '../../src/diagnose/measured-figure.ts';
import { pathGiven, placeFigure } from '../../src/diagnose/place-figure.ts';
import { usualStack } from '../../src/ethernet/goodput.ts';
import type { Site } from '../../src/site/types.ts';
import { type PlottingSketch, plottingSite } from '../site/plotting-site.ts';

/** All four ports as a healthy 10 Gb/s port has them. */
const port = { kind: 'physical', speedMbps: 10_000, duplex: 'full', operUp: true } as const;
const healthy: PlottingSketch = {
  desk: port,
  xg2: port,
  xg3: port,
  eth4: port,
  nodes: { 'quay-sw': { mtuCounts: { port: 'header-fcs' } } },
};

function placed(site: Site, text: string) {
  const [path] = site.paths;
  const figure = parseFigure(text);
  if (path === undefined || figure === undefined) throw new Error('no path or figure');
  const given = { ...pathGiven(path), stack: usualStack };
  const [first] = explainFigure(figure, given).explanations;
  return placeFigure(path, first, { given, directions: site.directions });
}

describe('the line that a path is meant to be', () => {
  it('is the slowest declared link and the declared packet', () => {
    const [path] = plottingSite(healthy).paths;
    expect(path && pathGiven(path)).toEqual({ rateMbps: 10_000, packetBytes: 9000 });
  });

  it('is what was read where nothing is declared', () => {
    const [path] = plottingSite({ ...healthy, link: {} }).paths;
    expect(path && pathGiven(path)).toEqual({ rateMbps: 10_000, packetBytes: 9000 });
  });
});

describe('the hop that a figure points at', () => {
  it('is the end at 1500 for 9.41 Gb/s', () => {
    const site = plottingSite({ ...healthy, eth4: { ...port, mtuBytes: 1500 } });
    expect(placed(site, '9.41G')).toEqual({
      path: 'plotting',
      hops: [
        {
          port: 'vault:eth4',
          by: 'packet',
          value: 1500,
          position: 'to',
          link: 'quay-sw:xg3 - vault:eth4',
        },
      ],
      unknown: [],
      otherWays: [],
    });
  });

  it('is an end before a switch, since a small switch stalls transfers', () => {
    const small = { ...port, mtuBytes: 1500 };
    const site = plottingSite({ ...healthy, xg2: { ...port, mtuBytes: 1518 }, eth4: small });
    expect(placed(site, '9.41G').hops.map((hop) => hop.port)).toEqual([
      'vault:eth4',
      'quay-sw:xg2',
    ]);
  });

  it('is both ends of the link at 1 Gb/s for 990 Mb/s', () => {
    const slow = { ...port, speedMbps: 1_000 };
    const site = plottingSite({ ...healthy, desk: slow, xg2: slow });
    expect(placed(site, '990M').hops.map(({ port: id, by }) => `${id} ${by}`)).toEqual([
      'plot-1:desk rate',
      'quay-sw:xg2 rate',
    ]);
  });

  it('is a slow link and a small packet for 941 Mb/s', () => {
    const slow = { ...port, speedMbps: 1_000 };
    const site = plottingSite({ ...healthy, xg3: slow, eth4: { ...slow, mtuBytes: 1500 } });
    expect(placed(site, '941M').hops.map(({ port: id, by }) => `${id} ${by}`)).toEqual([
      'quay-sw:xg3 rate',
      'vault:eth4 rate',
      'vault:eth4 packet',
    ]);
  });

  it('is none where the figure is as declared', () => {
    expect(placed(plottingSite(healthy), '9.90G').hops).toEqual([]);
  });

  it('is none where none is so, and what was not read is named', () => {
    const mute = { speedMbps: { reason: 'denied', words: 'not told' } } as const;
    const site = plottingSite({
      ...healthy,
      readings: {
        'quay-sw': {
          ports: { xg2: { ...port, mtuBytes: 9216 }, xg3: { ...port, mtuBytes: 9216 } },
          portOwnGaps: { xg3: mute },
        },
      },
    });
    expect(placed(site, '990M')).toMatchObject({ hops: [], unknown: ['quay-sw:xg3'] });
  });

  it('is another way where the traffic leaves by another port', () => {
    const site = plottingSite({
      ...healthy,
      readings: {
        vault: {
          ports: {
            eth4: { ...port, mtuBytes: 9000, addresses: ['198.18.20.2/24'] },
            eth0: { ...port, speedMbps: 1_000, addresses: ['198.18.20.9/24'] },
          },
          routes: { '198.18.20.1': 'eth0' },
        },
      },
    });
    expect(placed(site, '990M').otherWays).toEqual(['vault:eth0']);
  });
});
