import {
  isAlias,
  isMap,
  isScalar,
  isSeq,
  type Node,
  type Pair,
  type YAMLMap,
  type YAMLSeq,
} from 'yaml';
import type { Place } from '../facts/subject.ts';
import { placeText, quoted } from './fault.ts';
import { yamlAliasesMax, yamlValuesMax } from './limits.ts';
import type { Spot } from './spot.ts';
import type { InputFault } from './types.ts';

/** Plain data made from YAML nodes. */
export interface Converted {
  readonly value: unknown;
  readonly spot: Spot;
  readonly oddNumbers: readonly Spot[];
  readonly faults: readonly InputFault[];
  /** Some value is missing for a fault in an alias or a limit: do not judge the rest. */
  readonly broken: boolean;
}

interface Branch {
  readonly value: unknown;
  readonly spot: Spot;
}

interface Walk {
  readonly placeAt: (offset: number) => Place;
  readonly anchors: Map<string, Node>;
  readonly open: Set<Node>;
  readonly oddNumbers: Spot[];
  readonly faults: InputFault[];
  values: number;
  aliases: number;
  broken: boolean;
}

const noChildren: ReadonlyMap<string | number, Spot> = new Map();

/**
 * Values and places of a composed document in one pass. Aliases are expanded as they come, each
 * counted, so that a few lines cannot unfold into millions of values.
 */
export function convertYaml(root: Node | null, placeAt: (offset: number) => Place): Converted {
  const walk: Walk = {
    placeAt,
    anchors: new Map(),
    open: new Set(),
    oddNumbers: [],
    faults: [],
    values: 0,
    aliases: 0,
    broken: false,
  };
  const branch = convert(walk, root, placeAt(0));
  const { oddNumbers, faults, broken } = walk;
  return { ...branch, oddNumbers, faults, broken };
}

function convert(walk: Walk, node: Node | null, fallback: Place, key?: Place): Branch {
  const place = node?.range ? walk.placeAt(node.range[0]) : fallback;
  const keyed = key === undefined ? { value: place } : { value: place, key };
  walk.values += 1;
  if (walk.values > yamlValuesMax) return overLimit(walk, keyed);
  if (isAlias(node)) return convertAlias(walk, node.source, keyed);
  if (node !== null && 'anchor' in node && node.anchor) walk.anchors.set(node.anchor, node);
  if (isMap(node)) return inside(walk, node, () => convertMap(walk, node, keyed));
  if (isSeq(node)) return inside(walk, node, () => convertList(walk, node, keyed));
  return convertScalar(walk, node, keyed);
}

function inside(walk: Walk, node: Node, enter: () => Branch): Branch {
  walk.open.add(node);
  const branch = enter();
  walk.open.delete(node);
  return branch;
}

type Keyed = { readonly value: Place; readonly key?: Place };

function convertScalar(walk: Walk, node: Node | null, keyed: Keyed): Branch {
  const value = isScalar(node) ? node.value : null;
  const spot: Spot = { ...keyed, children: noChildren };
  if (!isScalar(node) || (typeof value !== 'number' && typeof value !== 'bigint')) {
    return { value, spot };
  }
  const source = node.source ?? String(value);
  const numberSpot: Spot = { ...spot, source };
  if (source !== String(value)) walk.oddNumbers.push(numberSpot);
  return { value: Number(value), spot: numberSpot };
}

function convertList(walk: Walk, node: YAMLSeq, keyed: Keyed): Branch {
  const value: unknown[] = [];
  const children = new Map<string | number, Spot>();
  for (const item of node.items as (Node | null)[]) {
    if (walk.broken) break;
    const branch = convert(walk, item, keyed.value);
    children.set(value.length, branch.spot);
    value.push(branch.value);
  }
  return { value, spot: { ...keyed, children } };
}

function convertMap(walk: Walk, node: YAMLMap, keyed: Keyed): Branch {
  // No prototype: a key such as `constructor` is then a key like any other.
  const value: Record<string, unknown> = Object.create(null);
  const children = new Map<string | number, Spot>();
  for (const pair of node.items as Pair<Node | null, Node | null>[]) {
    if (walk.broken) break;
    const key = keyOf(walk, pair, keyed.value);
    const first = key === undefined ? undefined : children.get(key.text);
    if (key === undefined) continue;
    if (first?.key !== undefined) {
      walk.faults.push(duplicate(key, first.key));
      continue;
    }
    const branch = convert(walk, pair.value, key.place, key.place);
    children.set(key.text, branch.spot);
    value[key.text] = branch.value;
  }
  return { value, spot: { ...keyed, children } };
}

interface Key {
  readonly text: string;
  readonly place: Place;
}

function keyOf(walk: Walk, pair: Pair<Node | null, Node | null>, fallback: Place): Key | undefined {
  const { key } = pair;
  const place = key?.range ? walk.placeAt(key.range[0]) : fallback;
  const text = isScalar(key) ? keyText(key.value, key.source) : undefined;
  if (text !== undefined && text !== '__proto__') return { text, place };
  const seen = isScalar(key) && key.source ? { seen: quoted(key.source) } : {};
  const what = text === undefined ? 'a key must be text' : 'this key is not allowed';
  const remedy = text === undefined ? 'put it in quotes' : 'choose another';
  walk.faults.push({ place, what, ...seen, remedy });
  return undefined;
}

// `20: ...` is a fine name; `010` or `1.10` would be taken for another one than is written.
function keyText(value: unknown, source: string | undefined): string | undefined {
  if (typeof value === 'string') return value;
  if (typeof value === 'number' && String(value) === source) return source;
  return undefined;
}

function duplicate(key: Key, first: Place): InputFault {
  return {
    place: key.place,
    what: `${quoted(key.text)} is there twice`,
    seen: `first at ${placeText(first)}`,
    remedy: 'remove or rename one',
  };
}

function convertAlias(walk: Walk, name: string, keyed: Keyed): Branch {
  const nothing: Branch = { value: null, spot: { ...keyed, children: noChildren } };
  const target = walk.anchors.get(name);
  walk.aliases += 1;
  const fault = aliasFault(walk, target);
  if (target === undefined || fault !== undefined) {
    walk.broken = true;
    walk.faults.push({ place: keyed.value, ...(fault ?? unset) });
    return nothing;
  }
  const branch = convert(walk, target, keyed.value, keyed.key);
  return branch;
}

type FaultText = Omit<InputFault, 'place'>;

const unset: FaultText = {
  what: 'an alias (*...) refers to no anchor before it',
  remedy: 'set the anchor (&...) first, or quote the text if no alias was meant',
};

function aliasFault(walk: Walk, target: Node | undefined): FaultText | undefined {
  if (walk.aliases > yamlAliasesMax) {
    return { what: `more than ${yamlAliasesMax} aliases`, remedy: 'write the values out' };
  }
  if (target === undefined) return unset;
  if (!walk.open.has(target)) return undefined;
  return { what: 'an alias refers to what it stands in', remedy: 'write the value out' };
}

function overLimit(walk: Walk, keyed: Keyed): Branch {
  if (!walk.broken) {
    const what = `more than ${yamlValuesMax} values, aliases expanded`;
    walk.faults.push({ place: keyed.value, what, remedy: 'split the file, or use fewer aliases' });
  }
  walk.broken = true;
  return { value: null, spot: { ...keyed, children: noChildren } };
}
