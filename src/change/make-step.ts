import type { FactValue } from '../facts/entry.ts';
import type { PortReadFacts } from '../facts/port-facts.ts';
import type { DeclaredLink } from '../intent/types.ts';
import type { NodeView } from '../site/node-view.ts';
import { type PortRef, portRef, type SiteIndex } from '../site/site-index.ts';
import type { Asked, AskedSetting } from './asked.ts';
import { lineOf } from './asked-line.ts';
import { disturbanceOf } from './disturbance.ts';
import { mediumOfRun } from './line-medium.ts';
import { stepFact } from './step-facts.ts';
import type { ChangeStep, TouchedPort } from './types.ts';

/** The step that an asked setting is; without what it waits for. */
export function makeStep(
  index: SiteIndex,
  asked: AskedSetting,
  mtuChange: Asked['mtuChange'],
): ChangeStep {
  const { node, port, setting, to, place, cord, arrives } = asked;
  const view = index.nodes.get(node);
  const ref = view && port !== undefined ? portRef(index.ports, view, port) : undefined;
  const facts = ref?.survey?.facts;
  const from = asked.from ?? (port === undefined ? frameOf(view, setting) : readAs(setting, facts));
  const touches = touchedBy(index, asked);
  const line = lineOf(setting, to);
  return {
    id: `${setting} ${ref?.id ?? node}`,
    node,
    ...(ref === undefined ? {} : { port: ref.id }),
    ...(ref?.survey === undefined ? {} : { portName: ref.survey.name }),
    setting,
    ...(from === undefined ? {} : { from }),
    to,
    disturbs: disturbanceOf(setting, facts, mtuChange.get(node) ?? view?.declared.mtuChange),
    place,
    after: [],
    ...(cord === undefined ? {} : { cord }),
    ...(arrives === undefined ? {} : { arrives }),
    ...(touches.length === 0 ? {} : { touches }),
    ...acrossFrom(setting, ref),
    ...(line === undefined ? {} : { line }),
  };
}

function acrossFrom(
  setting: AskedSetting['setting'],
  ref: PortRef | undefined,
): Pick<ChangeStep, 'across' | 'runMedium'> {
  const [end] = ref?.ends ?? [];
  if (end === undefined || setting === 'mtu' || setting === 'link') return {};
  const far = end.link.ends[end.side === 0 ? 1 : 0];
  const runMedium = mediumOfRun(end.link.declared.run);
  return {
    across: { node: far.node.declared.name, name: far.name },
    ...(runMedium === undefined ? {} : { runMedium }),
  };
}

function frameOf(view: NodeView | undefined, setting: AskedSetting['setting']) {
  return setting === 'mtu' ? view?.declared.frameBytes : undefined;
}

/** The ends of the cord, where it was and where it comes to; of a device those of all its links. */
function touchedBy(
  index: SiteIndex,
  { node, cord, arrives }: AskedSetting,
): readonly TouchedPort[] {
  const own = arrives === undefined ? [] : (index.linksOf.get(node) ?? []);
  const stays = [cord?.lays, ...own.map(({ declared }) => declared)];
  const [taken, kept] = [portsOf(index, [cord?.takes]), portsOf(index, stays)];
  const freed = [...taken].filter(([key]) => !kept.has(key));
  return [...kept.values(), ...freed.map(([, port]): TouchedPort => ({ ...port, freed: true }))];
}

function portsOf(
  { nodes, ports }: SiteIndex,
  links: readonly (DeclaredLink | undefined)[],
): ReadonlyMap<string, TouchedPort> {
  const ends = links.flatMap((link) => link?.ends ?? []);
  return new Map(
    ends.flatMap(({ node, port }) => {
      const view = nodes.get(node);
      if (view === undefined) return [];
      const { name } = portRef(ports, view, port);
      return [[`${node}:${name}`, { node, name }] as const];
    }),
  );
}

function readAs(
  setting: AskedSetting['setting'],
  facts: PortReadFacts | undefined,
): FactValue | undefined {
  const fact = stepFact(setting);
  return fact === undefined ? undefined : facts?.[fact];
}
