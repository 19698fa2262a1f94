import type { DeclaredLink, Intent } from '../intent/types.ts';
import type { Asked, AskedSetting } from './asked.ts';
import { cordSetting, endText, sameEnds } from './cords.ts';

/** What has to be done so that the network is what a second intent declares instead of the first. */
export function askedByIntent(before: Intent, after: Intent): Asked {
  const segments = after.segments.flatMap(({ name, mtuBytes, place }) => {
    const was = before.segments.find((each) => each.name === name)?.mtuBytes;
    return mtuBytes === undefined || mtuBytes === was ? [] : [{ name, mtuBytes, place }];
  });
  const changed = after.links.flatMap((link) => {
    const was = before.links.find((each) => sameEnds(each, link));
    return was === undefined ? [] : lineChanges(was, link);
  });
  return {
    settings: [
      ...changed,
      ...movedCords(before, after),
      ...replacedNodes(before, after),
      ...frames(before, after),
    ],
    segments,
    mtuChange: new Map(),
    speeds: new Map(),
    duplexes: new Map(),
    intent: after,
  };
}

function lineChanges(was: DeclaredLink, link: DeclaredLink): AskedSetting[] {
  return link.ends.flatMap(({ node, port, place }) => {
    const at = { node, port, place };
    const speed = link.speedMbps !== undefined && link.speedMbps !== was.speedMbps;
    return [
      ...(speed ? [{ ...at, setting: 'speed' as const, to: link.speedMbps ?? 0 }] : []),
      ...(link.duplex === was.duplex
        ? []
        : [{ ...at, setting: 'duplex' as const, to: link.duplex }]),
    ];
  });
}

/**
 * Links that only one of the two has: a cord is moved where an old and a new one share a port, else
 * laid or taken away.
 */
function movedCords(before: Intent, after: Intent): AskedSetting[] {
  const taken = before.links.filter((link) => !after.links.some((each) => sameEnds(each, link)));
  const names = new Set(after.nodes.map(({ name }) => name));
  const leaving = before.nodes.map(({ name }) => name).filter((name) => !names.has(name));
  const laid = after.links.filter((link) => !before.links.some((each) => sameEnds(each, link)));
  const left = new Set(taken);
  const moved = laid.map((lays) => {
    const ends = lays.ends.map(endText);
    const takes = [...left].find((each) => each.ends.some((end) => ends.includes(endText(end))));
    if (takes !== undefined) left.delete(takes);
    return cordSetting({ ...(takes === undefined ? {} : { takes }), lays, leaving }, lays.place);
  });
  return [...moved, ...[...left].map((takes) => cordSetting({ takes, leaving }, takes.place))];
}

/** Nodes of which the intent expects another identity: another device stands there. */
function replacedNodes(before: Intent, after: Intent): AskedSetting[] {
  return after.nodes.flatMap(({ name, identity, place }) => {
    const was = before.nodes.find((each) => each.name === name)?.identity;
    const other = (['engineId', 'sysObjectId', 'hostKey'] as const).some(
      (key) =>
        was?.[key] !== undefined && identity[key] !== undefined && was[key] !== identity[key],
    );
    return other
      ? [{ node: name, place, setting: 'node' as const, to: 'another device', arrives: {} }]
      : [];
  });
}

function frames(before: Intent, after: Intent): AskedSetting[] {
  return after.nodes.flatMap(({ name, unread, frameBytes, place }) => {
    const was = before.nodes.find((each) => each.name === name);
    if (unread === undefined || frameBytes === undefined || was?.frameBytes === frameBytes)
      return [];
    return was === undefined
      ? []
      : [{ node: name, place, setting: 'mtu' as const, to: frameBytes }];
  });
}
