import type { Place } from '../facts/subject.ts';
import { quoted } from '../intent/fault.ts';
import { checkPortsOfLinks } from '../intent/link-ports.ts';
import { splitEnd } from '../intent/link-schema.ts';
import type { DeclaredLink } from '../intent/types.ts';
import type { AskedSetting } from './asked.ts';
import { endText, sameEnds, withCords } from './cords.ts';
import { checkName, type Loading } from './loading.ts';

/** The link that a moved one becomes; a fault and undefined where its ends cannot be. */
export function movedLink(
  link: DeclaredLink,
  text: string,
  { place, loading }: { readonly place: Place; readonly loading: Loading },
): DeclaredLink | undefined {
  const ends = text.split(' - ').map((end) => splitEnd(end.trim()));
  const [a, b, ...more] = ends;
  if (a === undefined || b === undefined || more.length > 0) {
    const remedy = "write both ends, such as 'plot-1:en7 - quay-sw:xg3'";
    loading.faults.push({ place, what: 'a link has two ends', seen: quoted(text), remedy });
    return undefined;
  }
  const known = [a, b].map((end) => checkName(loading, place, end.node, 'node'));
  if (known.includes(false)) return undefined;
  const moved: DeclaredLink = {
    ...link,
    id: `${endText({ ...a, place })} - ${endText({ ...b, place })}`,
    place,
    ends: [
      { ...a, place },
      { ...b, place },
    ],
  };
  if (!sameEnds(moved, link)) return moved;
  const what = 'the cord is there already';
  loading.faults.push({
    place,
    what,
    seen: quoted(text),
    remedy: 'name another port, or leave it out',
  });
  return undefined;
}

/** Two cords cannot end at one port once all of them are moved. */
export function checkPortsOfCords(
  settings: readonly AskedSetting[],
  { intent, faults }: Loading,
): void {
  const cords = settings.flatMap(({ cord }) => cord ?? []);
  if (cords.length === 0) return;
  const { links, nodes } = withCords(intent, cords);
  checkPortsOfLinks(links, new Map(nodes.map((node) => [node.name, node])), faults);
}
