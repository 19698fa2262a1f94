import type { EndView } from './end-view.ts';
import { isOptical } from './link-elements.ts';
import { type LinkView, mediumOf } from './link-view.ts';

/** Unread devices that a switch often feeds over the cable (common practice). */
const oftenPowered: ReadonlySet<string> = new Set([
  'switch',
  'converter',
  'radio',
  'phone',
  'camera',
]);

/** What a person should know before touching the link. */
export function linkCautions(view: LinkView): readonly string[] {
  return [
    ...(isOptical(view)
      ? ['light in fibre is invisible and can hurt the eye: never look into a port or a ferrule']
      : []),
    ...(view.link.declared.run.some(({ kind }) => kind === 'wall')
      ? ['cable in walls is for a licensed installer and the local code: try the cords first']
      : []),
    ...poweredBy(view),
    ...view.ends.flatMap(sessionsAt),
  ];
}

function poweredBy(view: LinkView): readonly string[] {
  if (mediumOf(view) === 'fibre' || mediumOf(view) === 'direct-attach') return [];
  return view.ends.flatMap(({ declaredNode }, at) => {
    const unread = declaredNode?.unread;
    const other = view.ends[at === 0 ? 1 : 0];
    const fed = other.declaredNode?.role === 'switch';
    if (unread === undefined || !fed || !oftenPowered.has(unread)) return [];
    return [
      `${other.id} may power ${declaredNode?.name} over this cable: know what goes dark before you unplug it`,
    ];
  });
}

/** Sessions that run over the port, as far as their addresses tell. */
function sessionsAt(end: EndView): readonly string[] {
  const node = end.node?.survey;
  const name = end.port.survey?.name;
  if (node === undefined || name === undefined || end.declaredNode?.role !== 'host') return [];
  const own = addressesOver(end, name);
  const live = node.sessions.filter(
    ({ local, remote }) => !remote.startsWith('127.') && (own.size === 0 || own.has(local)),
  );
  const count = live.reduce((sum, each) => sum + each.count, 0);
  if (count === 0) return [];
  const servers = new Set(live.map(({ remote }) => remote));
  const mount = node.mounts.find(({ server }) => servers.has(server));
  const where = mount === undefined ? '' : `, among them storage mounted at ${mount.at}`;
  const [sessions, them] =
    count === 1 ? ['one live session', 'it'] : [`${count} live sessions`, 'them'];
  return [`${sessions} of ${end.port.node}${where}: pause ${them} before the link goes down`];
}

/** Addresses of the port and of the ports that are built on it, without prefix. */
function addressesOver(end: EndView, name: string): ReadonlySet<string> {
  const ports = end.node?.survey?.ports ?? [];
  const over = ports.filter(
    (port) => port.name === name || port.facts.lowerPorts?.includes(name) === true,
  );
  const all = over.flatMap(({ facts }) => facts.addresses ?? []);
  return new Set(all.map((address) => address.split('/')[0] ?? address));
}
