import { byName } from '../facts/order.ts';
import type { Survey } from '../facts/survey.ts';
import { quoted, sortFaults } from '../intent/fault.ts';
import { wordRemedy } from '../intent/nearest.ts';
import type { InputFault, Intent, LinkEnd, Loaded } from '../intent/types.ts';
import { indexSite, portRef, type SiteIndex } from '../site/site-index.ts';
import { applySteps, applyToIntent } from './apply-steps.ts';
import type { Asked, AskedSetting } from './asked.ts';
import { movingSteps, withLinesTogether } from './asked-line.ts';
import { cordRefusal } from './cord-refusal.ts';
import { impossible, waitsFor } from './impossible.ts';
import { makeStep } from './make-step.ts';
import { openCircles } from './open-circles.ts';
import type { ChangeRemark, ChangeStep } from './types.ts';
import { type Needed, workOut } from './work-out.ts';

/** A change made out: what is to be done, and what cannot be. */
export interface PlannedChange {
  readonly about?: string;
  /** What is declared after it. */
  readonly intent: Intent;
  /** In the order of their nodes and ports; what is as asked for already is left out. */
  readonly steps: readonly ChangeStep[];
  /** Impossible settings, without their steps. */
  readonly impossible: readonly ChangeRemark[];
  /** What has the right value already, by id of the step. */
  readonly alreadySo: readonly string[];
  /** Segments of which the declaration changes. */
  readonly segments: readonly string[];
  /** The steps were worked out from segments, and not listed by the owner. */
  readonly workedOut: boolean;
  /** It asks for the MTU of one segment and for nothing else. */
  readonly oneSegment: boolean;
  /** What a new MTU does to a node, where the change says. */
  readonly mtuChange: Asked['mtuChange'];
}

/** Rounds of working out: a layer may show only once the one below it has moved. */
const roundsMax = 4;

/**
 * The steps of a change. Where it lists ports or nodes with an MTU, these are the steps; where it
 * only declares segments, every setting that these need is worked out.
 */
export function planChange(intent: Intent, survey: Survey, asked: Asked): Loaded<PlannedChange> {
  const after = intentAfter(intent, asked);
  const devices = asked.settings.filter(({ arrives }) => arrives !== undefined);
  const asRead = indexSite(after, survey, { strict: false });
  const arriving = devices.map((each) => makeStep(asRead, each, asked.mtuChange));
  // What is set on a new device is set on what comes with it.
  const index = indexSite(after, applySteps(after, survey, arriving), { strict: false });
  const faults = asked.settings.flatMap((each) => unknownPorts(asRead, each));
  if (faults.length > 0) return { ok: false, faults: sortFaults(faults) };
  const segments = asked.segments.map(({ name }) => name).sort(byName);
  const settings = asked.settings.filter(({ arrives }) => arrives === undefined);
  const listed = [...arriving, ...settings.map((each) => makeStep(index, each, asked.mtuChange))];
  const workedOut = segments.length > 0 && !listed.some(({ setting }) => setting === 'mtu');
  const all = workedOut
    ? workedOutSteps({ intent: after, survey, index, asked, segments }, listed)
    : listed;
  const kept = movingSteps(all);
  const moving = withLinesTogether(
    kept,
    ({ node, portName = '' }) => index.nodes.get(node)?.ports.get(portName)?.facts,
  );
  const refused = refusals(index, moving);
  const left = openCircles(
    index,
    moving.filter((step) => !refused.has(step.id)),
  );
  const steps = left
    .map((step) => ({ ...step, after: waitsFor(index, step, left) }))
    .sort((a, b) => byName(a.port ?? a.node, b.port ?? b.node) || byName(a.id, b.id));
  return {
    ok: true,
    value: {
      ...(asked.about === undefined ? {} : { about: asked.about }),
      intent: after,
      steps,
      impossible: [...refused.values()],
      alreadySo: all.filter((step) => !kept.includes(step)).map(({ id }) => id),
      segments,
      workedOut,
      oneSegment: segments.length === 1 && asked.settings.length === 0,
      mtuChange: asked.mtuChange,
    },
  };
}

/** What is refused; again, since what stood on a refused port is then refused as well. */
function refusals(
  index: SiteIndex,
  steps: readonly ChangeStep[],
): ReadonlyMap<string, ChangeRemark> {
  const refused = new Map<string, ChangeRemark>();
  for (let round = 0; round < roundsMax; round += 1) {
    const left = steps.filter(({ id }) => !refused.has(id));
    const more = left.flatMap((step) => {
      const told =
        cordRefused(index, step) ??
        impossible(index, step, left) ??
        leftAlone(step, steps, refused);
      return told === undefined ? [] : [[step.id, told] as const];
    });
    if (more.length === 0) break;
    for (const [id, told] of more) refused.set(id, told);
  }
  return refused;
}

/** What is as wrong where the cord lies now does not keep it there. */
function cordRefused(index: SiteIndex, { cord }: ChangeStep): ChangeRemark | undefined {
  const told = cord && cordRefusal(index, cord);
  if (told === undefined || told.stands) return undefined;
  const { stands: _, ...rest } = told;
  return { kind: 'impossible', ...rest };
}

/** One end of a link is not set where the other, of the same entry, cannot follow. */
function leftAlone(
  { line, across, place, port, node }: ChangeStep,
  steps: readonly ChangeStep[],
  refused: ReadonlyMap<string, ChangeRemark>,
): ChangeRemark | undefined {
  const other = steps.find(
    (each) =>
      line !== undefined &&
      each.line !== undefined &&
      each.node === across?.node &&
      each.portName === across.name &&
      each.place.line === place.line &&
      each.place.column === place.column,
  );
  if (other === undefined || !refused.has(other.id)) return undefined;
  return {
    kind: 'impossible',
    on: port ?? node,
    what: `is not set alone: ${other.port ?? other.node} at the other end cannot follow`,
    remedy: 'set what both ends can do',
  };
}

interface Working {
  readonly intent: Intent;
  readonly survey: Survey;
  readonly index: SiteIndex;
  readonly asked: Asked;
  readonly segments: readonly string[];
}

function workedOutSteps(
  { intent, survey, index, asked, segments }: Working,
  listed: readonly ChangeStep[],
): readonly ChangeStep[] {
  const steps = [...listed];
  for (let round = 0; round < roundsMax; round += 1) {
    const known = new Set(steps.map(({ id }) => id));
    const more = stillNeeded(intent, survey, { steps, segments })
      .map((each) => makeStep(index, each, asked.mtuChange))
      .filter(({ id }) => !known.has(id));
    if (more.length === 0) break;
    steps.push(...more);
  }
  return steps;
}

/** What the segments of a change lack once its steps are done. */
export function stillNeeded(
  intent: Intent,
  survey: Survey,
  {
    steps,
    segments,
  }: { readonly steps: readonly ChangeStep[]; readonly segments: readonly string[] },
): Needed[] {
  const after = applyToIntent(intent, steps);
  return workOut(after, applySteps(intent, survey, steps), segments);
}

/** The intent with what the change declares. */
function intentAfter(intent: Intent, asked: Asked): Intent {
  if (asked.intent !== undefined)
    return asCabledNow(withFramesOf(asked.intent, intent), intent, asked);
  const declared = new Map(
    asked.segments.map(({ name, mtuBytes, place }) => [name, { mtuBytes, place }]),
  );
  return {
    ...intent,
    segments: intent.segments.map((segment) => ({ ...segment, ...declared.get(segment.name) })),
    links: intent.links.map((link) => {
      const speedMbps = asked.speeds.get(link.id) ?? link.speedMbps;
      const duplex = asked.duplexes.get(link.id) ?? link.duplex;
      return { ...link, duplex, ...(speedMbps === undefined ? {} : { speedMbps }) };
    }),
  };
}

/** What unread nodes pass is what they pass now, until its step is taken. */
function withFramesOf(after: Intent, before: Intent): Intent {
  const nodes = after.nodes.map((node) => {
    const now = before.nodes.find(({ name }) => name === node.name)?.frameBytes;
    return now === undefined ? node : { ...node, frameBytes: now };
  });
  return { ...after, nodes };
}

/** Cords lie where they lie now, until their step is taken; so do the nodes that leave with them. */
function asCabledNow(after: Intent, before: Intent, { settings }: Asked): Intent {
  const cords = settings.flatMap(({ cord }) => cord ?? []);
  const laid = new Set(cords.flatMap(({ lays }) => lays?.id ?? []));
  const taken = cords.flatMap(({ takes }) => takes ?? []);
  const there = new Set(after.nodes.map(({ name }) => name));
  const linked = new Set(taken.flatMap(({ ends }) => ends.map(({ node }) => node)));
  const leaving = before.nodes.filter(({ name }) => linked.has(name) && !there.has(name));
  return {
    ...after,
    nodes: [...after.nodes, ...leaving],
    links: [...after.links.filter(({ id }) => !laid.has(id)), ...taken],
  };
}

/** A port that a node which was read does not have: the name is the operator's mistake. */
function unknownPorts(index: SiteIndex, asked: AskedSetting): InputFault[] {
  const { node, port, place, cord } = asked;
  const ends = cord === undefined ? [] : (cord.lays?.ends ?? []);
  const own = cord === undefined && port !== undefined ? [{ node, port, place }] : [];
  return [...own, ...ends].flatMap((end) => unknownPort(index, end) ?? []);
}

/** Another number is another port and no slip of the pen: the names are listed then. */
function portRemedy(port: string, names: readonly string[]): string {
  const letters = (name: string) => name.replace(/\d+/g, '').toLowerCase();
  const alike = names.filter((name) => letters(name) === letters(port));
  if (alike.length === 0) return wordRemedy(port, names, 'name a port that an audit shows');
  const shown = alike.slice(0, portsShownMax).join(', ');
  return `it has ${shown}${alike.length > portsShownMax ? ', ...' : ''}`;
}

/** Ports that are listed, at most. */
const portsShownMax = 12;

function unknownPort(index: SiteIndex, { node, port, place }: LinkEnd): InputFault | undefined {
  const view = index.nodes.get(node);
  if (view === undefined || view.gap !== undefined || view.onWord) return undefined;
  const ref = portRef(index.ports, view, port);
  if (ref.survey !== undefined || ref.ends.length > 0) return undefined;
  const names = [...view.aliases.declared.keys(), ...view.ports.keys()].sort(byName);
  const remedy = portRemedy(port, names);
  return { place, what: `${node} has no such port`, seen: quoted(port), remedy };
}
