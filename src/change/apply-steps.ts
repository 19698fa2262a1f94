import { withoutProofs } from '../facts/newest-proofs.ts';
import type { PortReadFacts } from '../facts/port-facts.ts';
import type { NodeSurvey, PortSurvey, Survey } from '../facts/survey.ts';
import type { DeclaredNode, Intent } from '../intent/types.ts';
import { passesOn } from '../site/passes-on.ts';
import { applyLines } from './apply-lines.ts';
import { withCords } from './cords.ts';
import { layeredMtus } from './layered-mtus.ts';
import type { ChangeStep } from './types.ts';
import { replaced, type Unplugged, withoutLinks } from './unplug.ts';

/** Said as the source of what nobody has read yet. */
const source = 'the change that is rehearsed';

/** A survey as it would be read after one step. */
export function applyStep(intent: Intent, survey: Survey, step: ChangeStep): Survey {
  return applySteps(intent, survey, [step]);
}

/** A survey as it would be read after `steps`, in whatever order they are taken. */
export function applySteps(intent: Intent, survey: Survey, steps: readonly ChangeStep[]): Survey {
  const byNode = stepsByNode(steps);
  const forwarding = new Set(intent.nodes.filter(passesOn).map(({ name }) => name));
  const touched = portsTouched(steps);
  const why = steps.some(({ cord }) => cord) ? 'cord' : touched.size > 0 ? 'device' : undefined;
  const nodes = survey.nodes.map((node) => {
    const own = byNode.get(node.node) ?? [];
    const device = own.find(({ arrives }) => arrives !== undefined)?.arrives;
    const there = device === undefined ? node : replaced(node, device);
    const ports = touched.get(node.node) ?? new Map<string, Unplugged>();
    const plugged = why === undefined ? there : withoutLinks(there, ports, why);
    return own.length === 0 ? plugged : applyToNode(plugged, own, forwarding.has(node.node));
  });
  // What packets have shown they have shown of the state before.
  const kept = steps.length === 0 ? survey : withoutProofs(survey);
  return applyLines({ ...kept, nodes }, steps);
}

/** Ports whose link is another once `steps` are done, by node, and what happens to each. */
function portsTouched(
  steps: readonly ChangeStep[],
): ReadonlyMap<string, ReadonlyMap<string, Unplugged>> {
  const found = new Map<string, Map<string, Unplugged>>();
  for (const { touches = [], cord } of steps)
    for (const { node, name, freed } of touches) {
      const ports = found.get(node) ?? new Map<string, Unplugged>();
      const what = cord === undefined ? 'device' : freed === true ? 'freed' : 'cord';
      // Another cord may come to a port that one leaves.
      if (ports.get(name) !== 'cord') ports.set(name, what);
      found.set(node, ports);
    }
  return found;
}

/** Steps by the name of their node. */
export function stepsByNode(steps: readonly ChangeStep[]): Map<string, ChangeStep[]> {
  const byNode = new Map<string, ChangeStep[]>();
  for (const step of steps) {
    const own = byNode.get(step.node);
    if (own === undefined) byNode.set(step.node, [step]);
    else own.push(step);
  }
  return byNode;
}

/**
 * An intent in which unread nodes pass what `steps` set on them, cords lie where these put them, and
 * what the owner says of a new device is believed.
 */
export function applyToIntent(intent: Intent, steps: readonly ChangeStep[]): Intent {
  const frames = new Map<string, number | undefined>([
    // What is set on a device counts once it is there, so its own frame comes first.
    ...steps.flatMap(({ node, arrives }) => (arrives ? [[node, arrives.mtuBytes] as const] : [])),
    ...steps.flatMap(({ node, port, setting, to }) =>
      port === undefined && setting === 'mtu' && typeof to === 'number'
        ? [[node, to] as const]
        : [],
    ),
  ]);
  const vouched = new Set(
    steps.flatMap(({ node, arrives }) => (arrives?.mtuBytes === undefined ? [] : [node])),
  );
  const nodes = intent.nodes.map((node): DeclaredNode => {
    if (node.unread === undefined)
      return vouched.has(node.name) ? { ...node, believe: ['mtu'] } : node;
    if (!frames.has(node.name)) return node;
    const { frameBytes: _, ...rest } = node;
    const frameBytes = frames.get(node.name);
    return frameBytes === undefined ? rest : { ...rest, frameBytes };
  });
  return withCords(
    { ...intent, nodes },
    steps.flatMap(({ cord }) => cord ?? []),
  );
}

function applyToNode(
  node: NodeSurvey,
  steps: readonly ChangeStep[],
  forwards: boolean,
): NodeSurvey {
  const wanted = wantedMtus(node, steps);
  const mtus = wanted.size === 0 ? undefined : layeredMtus(node, wanted, forwards);
  const ports = node.ports.map((port) => {
    const mtuBytes = mtus?.get(port.name);
    const moved = mtuBytes !== undefined && mtuBytes !== port.facts.mtuBytes;
    return moved ? withFacts(port, mtuFacts(port.facts, mtuBytes)) : port;
  });
  return { ...node, ports };
}

/** MTU by the node's own port name that `steps` of one node set. */
export function wantedMtus(node: NodeSurvey, steps: readonly ChangeStep[]): Map<string, number> {
  const wanted = new Map<string, number>();
  for (const { setting, port, portName, to } of steps) {
    if (setting !== 'mtu' || typeof to !== 'number') continue;
    if (portName !== undefined) wanted.set(portName, to);
    if (port !== undefined) continue;
    for (const { name, facts } of node.ports)
      if (facts.kind === 'physical' || facts.kind === 'bond' || facts.kind === undefined)
        wanted.set(name, to);
  }
  return wanted;
}

function mtuFacts(facts: PortReadFacts, mtuBytes: number): PortReadFacts {
  const { mtuConfiguredBytes, driverMtuBytes } = facts;
  return {
    mtuBytes,
    ...(mtuConfiguredBytes === undefined ? {} : { mtuConfiguredBytes: mtuBytes }),
    // The driver's own setting has to be raised with it, and need not be lowered.
    ...(driverMtuBytes === undefined ? {} : { driverMtuBytes: Math.max(driverMtuBytes, mtuBytes) }),
  };
}

function withFacts(port: PortSurvey, facts: PortReadFacts): PortSurvey {
  const names = Object.keys(facts);
  const gaps = Object.entries(port.gaps ?? {}).filter(([name]) => !names.includes(name));
  return {
    ...port,
    facts: { ...port.facts, ...facts },
    sources: { ...port.sources, ...Object.fromEntries(names.map((name) => [name, source])) },
    ...(port.gaps === undefined ? {} : { gaps: Object.fromEntries(gaps) }),
  };
}
