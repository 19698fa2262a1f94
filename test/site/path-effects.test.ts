import { describe, expect, it } from 'vitest';
import { buildSite } from '../../src/site/build-site.ts';
import { makeIntent, makeSurvey, subjectIn } from './builders.ts';
import { plottingSite } from './plotting-site.ts';

const stall = (port: string) =>
  `transfers over TCP (SMB, NFS, SSH) stall at ${port}, which silently drops packets above 1500 bytes; logins, small requests and pings pass`;
const lost = (sender: string) =>
  `UDP and ICMP packets above 1500 bytes from ${sender} are lost silently`;
const agrees = 'TCP agrees on packets of 1500 bytes, so only the gain of larger ones is lost';

describe('what a small hop breaks', () => {
  const rows = [
    [
      'the near end: TCP shrinks, the far end’s datagrams are lost',
      { desk: { mtuBytes: 1500 } },
      `${agrees}; plot-1 itself sends no packet above 1500 bytes`,
      `${agrees}; ${lost('vault')}`,
    ],
    [
      'the far end',
      { eth4: { mtuBytes: 1500 } },
      `${agrees}; ${lost('plot-1')}`,
      `${agrees}; vault itself sends no packet above 1500 bytes`,
    ],
    [
      'the middle: transfers stall both ways',
      { xg3: { mtuBytes: 1500 } },
      `${stall('quay-sw:xg3')}; ${lost('plot-1')}`,
      `${stall('quay-sw:xg3')}; ${lost('vault')}`,
    ],
    [
      'the middle with both ends as small: nothing is lost but the gain',
      { desk: { mtuBytes: 1500 }, xg3: { mtuBytes: 1500 }, eth4: { mtuBytes: 1500 } },
      `${agrees}; plot-1 itself sends no packet above 1500 bytes`,
      `${agrees}; vault itself sends no packet above 1500 bytes`,
    ],
  ] as const;
  it.each(rows)('%s', (_, sketch, there, back) => {
    const { facts } = subjectIn(plottingSite(sketch), 'paths', 'plotting');
    expect([facts['effectThere'], facts['effectBack']]).toEqual([there, back]);
  });

  it('is said once where both directions are alike', () => {
    const small = plottingSite({ xg3: { mtuBytes: 1500 } });
    expect(subjectIn(small, 'paths', 'plotting').facts['effects']).toBe(
      `Both ways: ${stall('quay-sw:xg3')}; ${lost('either end')}`,
    );
    const end = plottingSite({ eth4: { mtuBytes: 1500 } });
    expect(subjectIn(end, 'paths', 'plotting').facts['effects']).toBe(
      `plot-1 to vault: ${agrees}; ${lost('plot-1')}. vault to plot-1: ${agrees}; vault itself sends no packet above 1500 bytes`,
    );
  });

  it('says nothing where the declared packet passes', () => {
    const { facts } = subjectIn(plottingSite(), 'paths', 'plotting');
    expect([facts['effectThere'], facts['effectBack']]).toEqual([undefined, undefined]);
  });
});

describe('a router between two segments', () => {
  const intent = makeIntent({
    nodes: { 'plot-1': {}, 'quay-sw': {}, gate: { routes: true }, printer: {} },
    segments: { storage: { vlan: 20, mtuBytes: 9000 }, office: { vlan: 1, mtuBytes: 9000 } },
    links: {
      'plot-1:desk - quay-sw:xg2': { untagged: 'storage' },
      'quay-sw:xg8 - gate:em0': { tagged: ['storage', 'office'] },
      'quay-sw:g7 - printer:lan': { untagged: 'office' },
    },
    paths: { printing: { from: ['plot-1'], to: ['printer'], over: ['storage', 'office'] } },
  });
  const at = (mtuBytes: number, address: string) => ({ mtuBytes, addresses: [address] });
  const vlan = (vlanId: number, mtuBytes: number, address: string) => ({
    ...at(mtuBytes, address),
    kind: 'vlan',
    vlanId,
    lowerPorts: ['em0'],
  });
  const survey = makeSurvey({
    'plot-1': { ports: { desk: at(9000, '198.18.20.1/24') } },
    'quay-sw': {
      ports: { xg2: { mtuBytes: 9216 }, xg8: { mtuBytes: 9216 }, g7: { mtuBytes: 9216 } },
    },
    gate: {
      ports: {
        em0: { mtuBytes: 9000, addresses: [] },
        'em0.1': vlan(1, 1500, '198.18.1.254/24'),
        'em0.20': vlan(20, 9000, '198.18.20.254/24'),
        'em0.99': vlan(99, 1280, '198.18.99.254/24'),
      },
    },
    printer: { ports: { lan: at(9000, '198.18.1.7/24') } },
  });
  const site = buildSite(intent, survey, { strict: false });

  it('is drawn up one VLAN and down the other, and other VLANs are no hop', () => {
    const hops = site.paths[0]?.hops.map((hop) => [hop.port.id, hop.distance, hop.position]);
    expect(hops).toEqual([
      ['plot-1:desk', 0, 'from'],
      ['quay-sw:xg2', 1, 'switch'],
      ['quay-sw:xg8', 1, 'switch'],
      ['gate:em0', 2, 'router'],
      ['gate:em0.20', 2, 'router'],
      ['gate:em0.1', 2, 'router'],
      ['gate:em0', 2, 'router'],
      ['quay-sw:xg8', 3, 'switch'],
      ['quay-sw:g7', 3, 'switch'],
      ['printer:lan', 4, 'to'],
    ]);
  });

  it('is named as that layer, and depends on its ICMP', () => {
    const { facts } = subjectIn(site, 'paths', 'printing');
    expect(facts['narrowestPort']).toBe('gate:em0.1');
    expect(facts['effectThere']).toBe(
      'transfers over TCP work only if the ICMP of gate:em0.1 (fragmentation needed, packet too big) gets back to plot-1; where it is filtered they stall; larger UDP and ICMP packets are fragmented or refused by gate:em0.1',
    );
  });

  it('is the odd interface of its segment', () => {
    expect(subjectIn(site, 'segments', 'office').facts).toEqual({
      name: 'office',
      vlan: 1,
      declaredMtuBytes: 9000,
      addressedPorts: ['gate:em0.1', 'printer:lan'],
      addressedMtusBytes: [1500, 9000],
      addressedMtusEqual: false,
      oddPort: 'gate:em0.1',
      portToRaise: 'gate:em0.1',
      oddPorts: ['gate:em0.1'],
    });
  });
});

describe('a small port below the interface with the address', () => {
  it('drops what that interface lets TCP agree on', () => {
    const bridged = {
      vault: {
        ports: {
          eth4: { mtuBytes: 1500, addresses: [] },
          br0: {
            kind: 'bridge',
            mtuBytes: 9000,
            addresses: ['198.18.20.2/24'],
            lowerPorts: ['eth4'],
          },
        },
        routes: { '198.18.20.1': 'br0' },
      },
    } as const;
    const { facts } = subjectIn(plottingSite({ readings: bridged }), 'paths', 'plotting');
    expect(facts['effects']).toBe(`Both ways: ${stall('vault:eth4')}; ${lost('either end')}`);
  });
});

describe('a router with a small port of its own', () => {
  const intent = makeIntent({
    nodes: { 'plot-1': {}, gate: { routes: true }, printer: {} },
    segments: { storage: { mtuBytes: 9000 }, office: { mtuBytes: 9000 } },
    links: {
      'plot-1:desk - gate:em0': { untagged: 'storage' },
      'gate:em1 - printer:lan': { untagged: 'office' },
    },
    paths: { printing: { from: ['plot-1'], to: ['printer'], over: ['storage', 'office'] } },
  });
  const at = (mtuBytes: number, address: string) => ({ mtuBytes, addresses: [address] });
  const survey = makeSurvey({
    'plot-1': { ports: { desk: at(9000, '198.18.20.1/24') } },
    gate: { ports: { em0: at(9000, '198.18.20.254/24'), em1: at(1500, '198.18.1.254/24') } },
    printer: { ports: { lan: at(9000, '198.18.1.7/24') } },
  });
  const site = buildSite(intent, survey, { strict: false });

  // A router answers where a packet would leave by a smaller link (RFC 1191 section 4); what is too
  // long for the port by which it comes is not received at all (common practice).
  it('answers where packets would leave by it, and is silent where they come in', () => {
    const { facts } = subjectIn(site, 'paths', 'printing');
    expect(facts['effectThere']).toBe(
      'transfers over TCP work only if the ICMP of gate:em1 (fragmentation needed, packet too big) gets back to plot-1; where it is filtered they stall; larger UDP and ICMP packets are fragmented or refused by gate:em1',
    );
    expect(facts['effectBack']).toBe(`${stall('gate:em1')}; ${lost('printer')}`);
  });

  it('is asked for its ICMP in the one direction alone', () => {
    const whole = site.directions.map(({ id, subject }) => [id, subject.facts['routedWhole']]);
    expect(whole).toEqual([
      ['printing: plot-1 to printer', false],
      ['printing: printer to plot-1', true],
    ]);
  });
});
