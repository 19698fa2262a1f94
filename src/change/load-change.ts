import type { Place } from '../facts/subject.ts';
import { quoted, sortFaults } from '../intent/fault.ts';
import { splitEnd } from '../intent/link-schema.ts';
import { schemaFaults } from '../intent/schema-faults.ts';
import { parseSpeed } from '../intent/speed.ts';
import type { DeclaredLink, Intent, Loaded } from '../intent/types.ts';
import { readYaml } from '../intent/yaml-tree.ts';
import type { Asked, AskedSetting } from './asked.ts';
import { type ChangeText, changeSchema } from './change-schema.ts';
import { cordSetting } from './cords.ts';
import { checkPortsOfCords, movedLink } from './load-cords.ts';
import { checkNames, linkOf, turned } from './load-names.ts';
import { checkName, type Loading, placeOf } from './loading.ts';

/** Largest change file, in UTF-16 units. */
export const changeLengthMax = 1024 * 1024;

/**
 * What a change file asks for. Every name in it is looked up in the intent; all faults are told at
 * once, each at its line and column.
 */
export function loadChange(text: string, file: string, intent: Intent): Loaded<Asked> {
  if (text.length > changeLengthMax) {
    const what = `longer than ${changeLengthMax} characters`;
    const place = { file, line: 1, column: 1 };
    return { ok: false, faults: [{ place, what, remedy: 'split it' }] };
  }
  const read = readYaml(text, file);
  if (!read.ok) return read;
  const { tree } = read;
  const found = schemaFaults(changeSchema, tree, 'a change file').faults;
  const checked = changeSchema.safeParse(tree.value);
  const loading: Loading = { intent, root: tree.spot, faults: [...tree.faults, ...found] };
  if (!checked.success) {
    checkNames(tree.value, loading);
    return { ok: false, faults: sortFaults(loading.faults) };
  }
  const asked = build(checked.data, loading);
  if (loading.faults.length > 0) return { ok: false, faults: sortFaults(loading.faults) };
  return { ok: true, value: asked };
}

function build(text: ChangeText, loading: Loading): Asked {
  const links = Object.keys(text.links ?? {}).flatMap((key) => {
    const link = linkOf(key, loading);
    return link === undefined ? [] : [{ link, ...lineOf(text.links?.[key] ?? {}) }];
  });
  const settings = [
    ...Object.entries(text.ports ?? {}).flatMap(([key, port]) => portSettings(key, port, loading)),
    ...Object.entries(text.nodes ?? {}).flatMap(([key, node]) => nodeSettings(key, node, loading)),
    ...links.flatMap(({ link }) => linkSettings(link, text, loading)),
  ];
  checkPortsOfCords(settings, loading);
  const segments = Object.entries(text.segments ?? {}).flatMap(([name, { mtu }]) => {
    const place = placeOf(loading, ['segments', name]);
    const known = checkName(loading, place, name, 'segment');
    return known ? [{ name, mtuBytes: mtu, place }] : [];
  });
  const mtuChange = Object.entries(text.nodes ?? {}).flatMap(([name, node]) =>
    node.mtuChange === undefined ? [] : [[name, node.mtuChange] as const],
  );
  checkTwice(settings, loading);
  return {
    ...(text.about === undefined ? {} : { about: text.about }),
    settings,
    segments,
    mtuChange: new Map(mtuChange),
    speeds: new Map(
      links.flatMap(({ link, speedMbps }) =>
        speedMbps === undefined ? [] : [[link.id, speedMbps] as const],
      ),
    ),
    duplexes: new Map(
      links.flatMap(({ link, duplex }) =>
        duplex === undefined ? [] : [[link.id, duplex] as const],
      ),
    ),
  };
}

interface Line {
  readonly speedMbps?: number;
  readonly duplex?: 'full' | 'half';
  readonly negotiate?: boolean;
}

function lineOf(text: {
  readonly speed?: string;
  readonly duplex?: 'full' | 'half';
  readonly negotiate?: boolean;
}): Line {
  const speedMbps = text.speed === undefined ? undefined : parseSpeed(text.speed);
  return {
    ...(speedMbps === undefined ? {} : { speedMbps }),
    ...(text.duplex === undefined ? {} : { duplex: text.duplex }),
    ...(text.negotiate === undefined ? {} : { negotiate: text.negotiate }),
  };
}

type At = Pick<AskedSetting, 'node' | 'port' | 'place'>;

function lineSettings(at: At, { speedMbps, duplex, negotiate }: Line): AskedSetting[] {
  return [
    ...(negotiate === undefined
      ? []
      : [{ ...at, setting: 'auto-negotiation' as const, to: negotiate }]),
    ...(speedMbps === undefined ? [] : [{ ...at, setting: 'speed' as const, to: speedMbps }]),
    ...(duplex === undefined ? [] : [{ ...at, setting: 'duplex' as const, to: duplex }]),
  ];
}

function portSettings(
  key: string,
  port: NonNullable<ChangeText['ports']>[string],
  loading: Loading,
): AskedSetting[] {
  const place = placeOf(loading, ['ports', key]);
  const end = splitEnd(key);
  if (end === undefined) {
    const remedy = "write the node, a colon and the port, such as 'plot-1:en7'";
    loading.faults.push({ place, what: 'a port must be node:port', seen: quoted(key), remedy });
    return [];
  }
  if (!checkName(loading, place, end.node, 'node')) return [];
  const node = loading.intent.nodes.find(({ name }) => name === end.node);
  if (node?.unread !== undefined) {
    const remedy = `write it under nodes: ${end.node}`;
    loading.faults.push({ place, what: 'nobody reads this node', seen: quoted(key), remedy });
    return [];
  }
  const at = { node: end.node, port: end.port, place };
  const mtu = port.mtu === undefined ? [] : [{ ...at, setting: 'mtu' as const, to: port.mtu }];
  return [...mtu, ...lineSettings(at, lineOf(port))];
}

function nodeSettings(
  name: string,
  node: NonNullable<ChangeText['nodes']>[string],
  loading: Loading,
): AskedSetting[] {
  const place = placeOf(loading, ['nodes', name]);
  const { mtu, replace } = node;
  if (!checkName(loading, place, name, 'node')) return [];
  if (mtu === undefined && replace === undefined) return [];
  const declared = loading.intent.nodes.find((each) => each.name === name);
  if (declared?.role !== 'switch' && declared?.unread === undefined) {
    const what =
      mtu === undefined ? 'a host is not replaced as a whole' : 'a host has no MTU as a whole';
    const remedy = `write its ports under ports:, such as '${name}:eth0'`;
    loading.faults.push({ place, what, seen: quoted(name), remedy });
    return [];
  }
  return [
    ...(mtu === undefined ? [] : [{ node: name, place, setting: 'mtu' as const, to: mtu }]),
    ...(replace === undefined ? [] : [deviceSetting(name, replace, place)]),
  ];
}

function deviceSetting(
  node: string,
  { by, mtu, mtuMax }: NonNullable<NonNullable<ChangeText['nodes']>[string]['replace']>,
  place: Place,
): AskedSetting {
  const arrives = {
    ...(mtu === undefined ? {} : { mtuBytes: mtu }),
    ...(mtuMax === undefined ? {} : { mtuMaxBytes: mtuMax }),
  };
  return { node, place, setting: 'node', to: by, arrives };
}

function linkSettings(link: DeclaredLink, text: ChangeText, loading: Loading): AskedSetting[] {
  const key = [link.id, turned(link)].find((each) => text.links?.[each] !== undefined) ?? link.id;
  const place = placeOf(loading, ['links', key]);
  const { move, remove, ...line } = text.links?.[key] ?? {};
  const { speedMbps, duplex } = lineOf(line);
  const declared = {
    ...link,
    ...(speedMbps === undefined ? {} : { speedMbps }),
    ...(duplex === undefined ? {} : { duplex }),
  };
  const lays =
    move === undefined
      ? undefined
      : movedLink(declared, move, { place: placeOf(loading, ['links', key, 'move']), loading });
  const cord =
    remove === true || lays !== undefined
      ? [cordSetting({ takes: link, ...(lays === undefined ? {} : { lays }), leaving: [] }, place)]
      : [];
  const set = (lays ?? link).ends.flatMap(({ node, port }) => {
    const declared = loading.intent.nodes.find(({ name }) => name === node);
    if (declared?.unread !== undefined) return [];
    return lineSettings({ node, port, place }, lineOf(line));
  });
  return [...cord, ...set];
}

function checkTwice(settings: readonly AskedSetting[], { faults }: Loading): void {
  const seen = new Map<string, AskedSetting>();
  for (const each of settings) {
    const key = `${each.setting} ${each.node}:${each.port ?? ''}`;
    const first = seen.get(key);
    seen.set(key, first ?? each);
    if (first === undefined || first.to === each.to) continue;
    const what = `${each.setting} of ${each.node}${each.port === undefined ? '' : `:${each.port}`} is set to two values`;
    const seenText = `first at line ${first.place.line}`;
    faults.push({ place: each.place, what, seen: seenText, remedy: 'remove one' });
  }
}
