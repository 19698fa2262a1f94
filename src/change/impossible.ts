import { standardPacketBytes } from '../ethernet/frame-size.ts';
import { busFeeds } from '../ethernet/host-bus.ts';
import { busFromText } from '../ethernet/host-bus-text.ts';
import { reachOfRun } from '../ethernet/run-reach.ts';
import type { NodeSurvey } from '../facts/survey.ts';
import type { LinkEnd, RunPiece } from '../intent/types.ts';
import { modesOf } from '../site/port-modes.ts';
import { type PortRef, portId, portRef, type SiteIndex } from '../site/site-index.ts';
import { wantedMtus } from './apply-steps.ts';
import { layeredMtus } from './layered-mtus.ts';
import { duplexRefusal, noLineRefusal } from './line-refusal.ts';
import type { AskedLine, ChangeRemark, ChangeStep } from './types.ts';

/**
 * Why a setting cannot come true, as far as what was read tells; undefined: nothing speaks against it.
 * `steps` are all of the change: what stands on a port that they raise may be raised with it.
 */
export function impossible(
  index: SiteIndex,
  step: ChangeStep,
  steps: readonly ChangeStep[],
): ChangeRemark | undefined {
  const view = index.nodes.get(step.node);
  if (view === undefined) return undefined;
  if (step.cord !== undefined) return undefined;
  const over = overDevice(step, steps);
  if (over !== undefined) return { kind: 'impossible', on: step.port ?? step.node, ...over };
  if (step.portName === undefined || step.port === undefined) return undefined;
  const ref = portRef(index.ports, view, step.portName);
  const { to } = step;
  const told =
    step.setting === 'mtu' && typeof to === 'number'
      ? mtuRefusal(ref, to, steps)
      : step.line === undefined
        ? undefined
        : lineRefusal(ref, step.line);
  return told && { kind: 'impossible', on: step.port, ...told };
}

/** More than the device takes that is put in the place of the node. */
function overDevice({ node, setting, to }: ChangeStep, steps: readonly ChangeStep[]) {
  const device = steps.find((each) => each.node === node && each.arrives !== undefined);
  const max = device?.arrives?.mtuMaxBytes;
  if (setting !== 'mtu' || typeof to !== 'number' || max === undefined || to <= max)
    return undefined;
  return {
    what: `cannot be set to ${to}: ${String(device?.to)}, which is put in its place, takes at most ${max}`,
    remedy: `put in a device that takes ${to}, or declare less`,
  };
}

type Told = Pick<ChangeRemark, 'what' | 'remedy'>;

function mtuRefusal(ref: PortRef, to: number, steps: readonly ChangeStep[]): Told | undefined {
  const { node } = ref;
  const facts = ref.survey?.facts ?? {};
  if (facts.kind === 'wireless' && to > standardPacketBytes)
    return {
      what: `cannot carry ${to}: it is a Wi-Fi port, and no setting gives Wi-Fi packets above ${standardPacketBytes} bytes`,
      remedy: 'leave it out of the segment, behind a router or in a VLAN of its own',
    };
  for (const name of [ref.name, ...(facts.kind === 'bond' ? (facts.lowerPorts ?? []) : [])]) {
    const { mtuMaxBytes = Infinity, mtuMinBytes = 0 } = node.ports.get(name)?.facts ?? {};
    const whose =
      name === ref.name ? 'its driver' : `the driver of its member ${portId(node, name)}`;
    if (!node.forwards && to > mtuMaxBytes)
      return {
        what: `cannot be set to ${to}: ${whose} accepts at most ${mtuMaxBytes}`,
        remedy: `declare at most ${mtuMaxBytes} for its segment, or use another adapter or driver`,
      };
    if (!node.forwards && to < mtuMinBytes)
      return {
        what: `cannot be set to ${to}: ${whose} accepts at least ${mtuMinBytes}`,
        remedy: `set ${mtuMinBytes} or more`,
      };
  }
  return facts.kind === 'vlan' && !node.forwards ? parentRefusal(ref, to, steps) : undefined;
}

function parentRefusal(
  { node, survey }: PortRef,
  to: number,
  steps: readonly ChangeStep[],
): Told | undefined {
  const [parent] = survey?.facts.lowerPorts ?? [];
  if (parent === undefined || node.survey === undefined) return undefined;
  const below = mtusWith(node.survey, steps).get(parent);
  if (below === undefined || below >= to) return undefined;
  return {
    what: `cannot be set to ${to}: it stands on ${portId(node, parent)}, which stays at ${below}, and the system refuses a VLAN interface above what it stands on`,
    remedy: `raise ${portId(node, parent)} to ${to} as well`,
  };
}

function mtusWith(survey: NodeSurvey, steps: readonly ChangeStep[]): ReadonlyMap<string, number> {
  const own = steps.filter(({ node }) => node === survey.node);
  return layeredMtus(survey, wantedMtus(survey, own), false);
}

function lineRefusal(ref: PortRef, line: AskedLine): Told | undefined {
  const speed = () =>
    line.speedMbps === undefined
      ? undefined
      : speedRefusal(ref, line.speedMbps, ref.ends[0]?.link.declared.run ?? []);
  return noLineRefusal(ref) ?? speed() ?? duplexRefusal(ref, line);
}

/** Why a port with a run at it cannot do a speed in Mb/s; undefined: nothing tells that. */
export function speedRefusal(ref: PortRef, to: number, run: readonly RunPiece[]): Told | undefined {
  const { capable } = modesOf(ref);
  const speeds = (capable?.modes ?? []).map(({ speedMbps }) => speedMbps);
  if (capable !== undefined && !speeds.includes(to) && !capable.silentMbps.includes(to))
    return {
      what: `cannot run at ${to} Mb/s: it can do ${[...new Set(speeds)].join(', ')} Mb/s`,
      remedy: 'declare a speed that both ends can do, or use another port or module',
    };
  const reach = reachOfRun(run, { rateMbps: to });
  const piece = run[reach?.limitedBy?.pieceIndex ?? -1];
  if (reach?.carriesWanted === 'no')
    return {
      what: `cannot run at ${to} Mb/s: its run does not reach that${piece === undefined ? '' : ` (${piece.text}: ${reach.limitedBy?.reason})`}`,
      remedy: 'replace that piece of the run, or declare a lower speed',
    };
  const { busText } = ref.survey?.facts ?? {};
  const bus = busText === undefined ? undefined : busFromText(busText);
  const fed = bus && busFeeds(bus, to);
  return fed?.feeds === false
    ? {
        what: `cannot carry ${to} Mb/s: its bus does not feed that (${fed.words})`,
        remedy: 'put the adapter into a faster slot',
      }
    : undefined;
}

/**
 * Ids of the steps that must be done before `step`: those without which a system refuses it for now,
 * since a lower layer is too small or a port is taken, that on a bond which would undo it on its
 * member, and the new device that it is set on.
 */
export function waitsFor(
  index: SiteIndex,
  step: ChangeStep,
  steps: readonly ChangeStep[],
): readonly string[] {
  if (step.cord !== undefined) return cordsInTheWay(index, step, steps);
  if (step.setting === 'node') return [];
  const device = steps.find((each) => each.node === step.node && each.arrives !== undefined);
  const own = device === undefined ? [] : [device.id];
  if (step.setting !== 'mtu') return own;
  return [...own, ...bondSteps(index, step, steps), ...lowerSteps(index, step, steps)];
}

/** Ids of the steps that take a cord out of a port that this one comes to. */
export function cordsInTheWay(
  index: SiteIndex,
  step: ChangeStep,
  steps: readonly ChangeStep[],
): string[] {
  const idOf = ({ node, port }: LinkEnd) => {
    const view = index.nodes.get(node);
    return view === undefined ? `${node}:${port}` : portRef(index.ports, view, port).id;
  };
  const comes = new Set((step.cord?.lays?.ends ?? []).map(idOf));
  return steps.flatMap((each) => {
    if (each === step) return [];
    return (each.cord?.takes?.ends ?? []).some((end) => comes.has(idOf(end))) ? [each.id] : [];
  });
}

function bondSteps(
  index: SiteIndex,
  { node, portName = '' }: ChangeStep,
  steps: readonly ChangeStep[],
): string[] {
  const view = index.nodes.get(node);
  const above = (view?.uppers.get(portName) ?? []).filter(
    (name) => view?.ports.get(name)?.facts.kind === 'bond',
  );
  return steps
    .filter((each) => each.node === node && each.setting === 'mtu')
    .flatMap((each) => (above.includes(each.portName ?? '') ? [each.id] : []));
}

function lowerSteps(
  index: SiteIndex,
  step: ChangeStep,
  steps: readonly ChangeStep[],
): readonly string[] {
  const { portName, to } = step;
  const view = index.nodes.get(step.node);
  const facts = view?.ports.get(portName ?? '')?.facts;
  const [parent] = facts?.lowerPorts ?? [];
  if (view?.survey === undefined || view.forwards || facts?.kind !== 'vlan') return [];
  if (parent === undefined || typeof to !== 'number') return [];
  if ((view.ports.get(parent)?.facts.mtuBytes ?? to) >= to) return [];
  const { survey } = view;
  const others = steps.filter((each) => each !== step && each.node === step.node);
  // Without one of these alone the layer below would stay too small.
  return others.flatMap((each) => {
    const rest = others.filter((other) => other !== each);
    const below = layeredMtus(survey, wantedMtus(survey, rest), false).get(parent);
    return below !== undefined && below < to ? [each.id] : [];
  });
}
