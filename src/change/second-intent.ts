import type { DeclaredLink, Intent } from '../intent/types.ts';
import type { Asked, AskedSetting } from './asked.ts';

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
    settings: [...changed, ...movedCords(before, after), ...frames(before, after)],
    segments,
    mtuChange: new Map(),
    speeds: new Map(),
    duplexes: new Map(),
    intent: after,
  };
}

function sameEnds(a: DeclaredLink, b: DeclaredLink): boolean {
  const ends = (link: DeclaredLink) => link.ends.map(({ node, port }) => `${node}:${port}`).sort();
  return ends(a).join('\n') === ends(b).join('\n');
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

/** Links that only the second intent has: a cord is laid, or moved from elsewhere. */
function movedCords(before: Intent, after: Intent): AskedSetting[] {
  return after.links.flatMap((link) => {
    if (before.links.some((each) => sameEnds(each, link))) return [];
    const [{ node, port, place }, far] = link.ends;
    return [{ node, port, place, setting: 'link' as const, to: `${far.node}:${far.port}` }];
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
