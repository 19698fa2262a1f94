import type { Asked } from '../../src/change/asked.ts';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import type { Survey } from '../../src/facts/survey.ts';
import type { Intent } from '../../src/intent/types.ts';
import {
  type LinkSketch,
  makeIntent,
  makeSurvey,
  type NodeReadingSketch,
  type NodeSketch,
  place,
} from '../site/builders.ts';

const edgeCount = 18;
const hostCount = 480;
/** Hosts to which the paths of all hosts lead. */
const storeCount = 8;
const from = 1500;
const to = 9000;

/** A site, a change that raises its only segment, and its ports between switches and of hosts. */
export interface LargeSite {
  readonly intent: Intent;
  readonly survey: Survey;
  readonly asked: Asked;
  readonly uplinks: readonly (readonly [node: string, port: string])[];
  readonly hostPorts: readonly (readonly [node: string, port: string])[];
}

/**
 * 480 hosts on 18 switches, these on two more, which two cables join: 500 nodes, 1000 ports that a
 * new MTU of the segment asks for. Every host has a path to two of eight stores. All are at 1500,
 * or each host at what `mtuOfHost` says.
 */
export function makeLargeSite(mtuOfHost: (host: number) => number = () => from): LargeSite {
  const switchOf = (host: number) => `edge-${host % edgeCount}-sw`;
  const nodes: Record<string, NodeSketch> = {};
  const links: Record<string, LinkSketch> = {};
  const read: Record<string, Record<string, PortReadFacts>> = {};
  const untagged: LinkSketch = { untagged: 'storage', speedMbps: 10_000 };
  const uplinks: (readonly [string, string])[] = [];
  const join = (a: readonly [string, string], b: readonly [string, string], link: LinkSketch) => {
    for (const [node, port] of [a, b]) {
      nodes[node] ??= node.endsWith('-sw')
        ? { mtuCounts: { port: 'payload' }, believe: ['mtu'] }
        : {};
      const own = read[node] ?? {};
      own[port] = { mtuBytes: from, ...own[port] };
      read[node] = own;
    }
    if (a[0].endsWith('-sw')) uplinks.push(a, b);
    links[`${a.join(':')} - ${b.join(':')}`] = link;
  };
  for (let host = 0; host < hostCount; host += 1) {
    const name = `host-${host}`;
    const addresses = [`198.18.${host >> 7}.${(host & 127) + 1}/16`];
    read[name] = { eth0: { addresses, mtuBytes: mtuOfHost(host) } };
    join([name, 'eth0'], [switchOf(host), `p${Math.floor(host / edgeCount)}`], untagged);
  }
  for (let edge = 0; edge < edgeCount; edge += 1)
    join([`edge-${edge}-sw`, 'up'], [`core-${edge % 2}-sw`, `p${edge}`], untagged);
  for (const port of ['x1', 'x2'])
    join(['core-0-sw', port], ['core-1-sw', port], { ...untagged, lag: 'cores' });
  const hosts = Array.from({ length: hostCount }, (_, host) => host);
  const paths = Object.fromEntries(
    Array.from({ length: storeCount }, (_, store) => {
      const near = hosts.filter(
        (host) =>
          host !== store && (host % storeCount === store || (host + 3) % storeCount === store),
      );
      const path = { from: near.map((host) => `host-${host}`), to: [`host-${store}`] };
      return [`store-${store}`, { ...path, over: ['storage'] }];
    }),
  );
  const sketches = Object.entries(read).map(([name, ports]): [string, NodeReadingSketch] => {
    const facts = name.endsWith('-sw') ? {} : { systemKind: 'linux' };
    return [name, { facts, ports }];
  });
  return {
    uplinks,
    hostPorts: hosts.map((host) => [`host-${host}`, 'eth0']),
    intent: makeIntent({ nodes, links, paths, segments: { storage: { mtuBytes: from } } }),
    survey: makeSurvey(Object.fromEntries(sketches)),
    asked: {
      settings: [],
      segments: [{ name: 'storage', mtuBytes: to, place }],
      mtuChange: new Map(),
      speeds: new Map(),
      duplexes: new Map(),
    },
  };
}
