import { describe, expect, it } from 'vitest';
import { vlanRemarks } from '../../src/change/vlan-remarks.ts';
import { indexSite } from '../../src/site/site-index.ts';
import { makeIntent, makeSurvey } from '../site/builders.ts';

const intentIn = (vlan: number) =>
  makeIntent({
    nodes: { 'plot-1': {}, 'quay-sw': {} },
    segments: { storage: { vlan, mtuBytes: 9000 } },
    links: { 'plot-1:en7 - quay-sw:xg2': { untagged: 'storage' } },
  });
const survey = (untaggedVlan: number) =>
  makeSurvey({
    'plot-1': { ports: { en7: {} } },
    'quay-sw': { ports: { xg2: { untaggedVlan, untaggedVlans: [untaggedVlan], taggedVlans: [] } } },
  });
const remarks = (before: number, after: number, read: number) =>
  vlanRemarks(intentIn(before), indexSite(intentIn(after), survey(read), { strict: false })).map(
    ({ kind, on, what }) => `${kind} ${on} ${what}`,
  );

describe('a segment that comes into another VLAN', () => {
  it('is forgotten at ports that do not carry it', () => {
    expect(remarks(20, 30, 20)).toEqual([
      'forgotten segment storage comes into VLAN 30, and is in 20 now: no step sets which VLANs a port carries, and quay-sw:xg2 does not carry it; until that is set, its ends are told as not joined',
    ]);
  });

  it('is no matter where the ports carry it already, or where it stays', () => {
    expect(remarks(20, 30, 30)).toEqual([]);
    expect(remarks(20, 20, 30)).toEqual([]);
  });
});
