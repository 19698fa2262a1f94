import type { Place } from '../facts/subject.ts';
import type { DeclaredLink, Intent, LinkEnd } from '../intent/types.ts';
import type { AskedSetting } from './asked.ts';
import type { CordMove } from './types.ts';

/** An end as it is written. */
export function endText({ node, port }: LinkEnd): string {
  return `${node}:${port}`;
}

/** Whether two links join the same two ports. */
export function sameEnds(a: DeclaredLink, b: DeclaredLink): boolean {
  const ends = (link: DeclaredLink) => link.ends.map(endText).sort().join('\n');
  return ends(a) === ends(b);
}

/** The links of an intent once cords are moved, and without the nodes that leave with them. */
export function withCords(intent: Intent, cords: readonly CordMove[]): Intent {
  if (cords.length === 0) return intent;
  const taken = new Set(cords.flatMap(({ takes }) => (takes === undefined ? [] : [takes.id])));
  const laid = cords.flatMap(({ lays }) => lays ?? []);
  const kept = intent.links.filter(
    (link) => !taken.has(link.id) && !laid.some((each) => sameEnds(each, link)),
  );
  const links = [...kept, ...laid];
  const linked = new Set(links.flatMap(({ ends }) => ends.map(({ node }) => node)));
  const gone = new Set(cords.flatMap(({ leaving }) => leaving).filter((name) => !linked.has(name)));
  return { ...intent, links, nodes: intent.nodes.filter(({ name }) => !gone.has(name)) };
}

/** The end at which a cord stays, with where its other end was and comes to. */
export interface MovedEnd {
  readonly stays: LinkEnd;
  /** Absent: a new cord. */
  readonly from?: LinkEnd;
  /** Absent: it is taken away. */
  readonly to?: LinkEnd;
}

/** How a person at the cord sees its move. */
export function movedEnd({ takes, lays }: Pick<CordMove, 'takes' | 'lays'>): MovedEnd | undefined {
  const link = lays ?? takes;
  if (link === undefined) return undefined;
  const was = takes?.ends.map(endText) ?? [];
  const stays = link.ends.find((end) => was.includes(endText(end))) ?? link.ends[0];
  const far = ({ ends }: DeclaredLink) => ends.find((end) => endText(end) !== endText(stays));
  const from = takes && far(takes);
  const to = lays && far(lays);
  return {
    stays,
    ...(from === undefined ? {} : { from }),
    ...(to === undefined ? {} : { to }),
  };
}

/** What stands for the place of a cord that is taken away. */
export const noPort = 'no port';

/** The setting that a moved cord is, told from the end at which it stays. */
export function cordSetting(cord: CordMove, place: Place): AskedSetting {
  const moved = movedEnd(cord);
  if (moved === undefined) throw new Error('a cord that is moved was or comes somewhere');
  const { stays, from, to } = moved;
  return {
    node: stays.node,
    port: stays.port,
    place,
    setting: 'link',
    ...(from === undefined ? {} : { from: endText(from) }),
    to: to === undefined ? noPort : endText(to),
    cord,
  };
}
