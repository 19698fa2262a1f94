import type { Survey } from '../facts/survey.ts';
import { doubtfulMtu } from '../site/doubtful-mtu.ts';
import type { NodeView } from '../site/node-view.ts';
import { portRef, type SiteIndex } from '../site/site-index.ts';
import { bridgeRemarks } from './bridge-remarks.ts';
import { standingRefusals } from './cord-refusal.ts';
import { noPort } from './cords.ts';
import { deviceRemarks } from './device-remarks.ts';
import { impossible } from './impossible.ts';
import { makeStep } from './make-step.ts';
import { type PlannedChange, stillNeeded } from './plan-change.ts';
import type { ChangeRemark, ChangeStep } from './types.ts';
import { wayIn } from './way-in.ts';

/** Everything about a change that is not a verdict: impossible, forgotten, not known, to be minded. */
export function remarksOn(
  index: SiteIndex,
  survey: Survey,
  planned: PlannedChange,
): readonly ChangeRemark[] {
  const left = leftOver(index, survey, planned);
  const bridges = bridgeRemarks(index, planned.steps);
  return [
    ...onceEach([...planned.impossible, ...left.filter(({ kind }) => kind === 'impossible')]),
    ...left.filter(({ kind }) => kind === 'forgotten'),
    ...unknowns(index, planned),
    ...standingRefusals(index, planned.steps),
    ...bridges.filter(({ kind }) => kind === 'unknown'),
    ...planned.steps.flatMap((step) => cautionsOf(index, step)),
    ...bridges.filter(({ kind }) => kind === 'caution'),
    ...reloads(planned.steps),
    ...deviceRemarks(planned.steps),
  ];
}

function onceEach(remarks: readonly ChangeRemark[]): ChangeRemark[] {
  return [...new Map(remarks.map((remark) => [remark.on, remark])).values()];
}

/** What the segments still lack after all steps: forgotten, or not to be had at all. */
function leftOver(index: SiteIndex, survey: Survey, planned: PlannedChange): ChangeRemark[] {
  return stillNeeded(planned.intent, survey, planned).map((needed): ChangeRemark => {
    const step = makeStep(index, needed, new Map());
    const refused = impossible(index, step, [...planned.steps, step]);
    if (refused !== undefined) return refused;
    const stays =
      typeof needed.to === 'number' && step.from !== undefined
        ? `stays at ${step.from}`
        : 'stays as it is';
    return {
      kind: 'forgotten',
      on: needed.id,
      what: `${stays}: it is ${needed.role}, and segment ${needed.segment} needs ${needed.to} there`,
      remedy: `add it to the change: mtu ${needed.to}`,
    };
  });
}

/** What is in `segments`, is set by no step and could not be read. */
export function unknowns(
  index: SiteIndex,
  { segments, steps }: Pick<PlannedChange, 'segments' | 'steps'>,
): ChangeRemark[] {
  const set = new Set(steps.flatMap(({ port, node }) => [port ?? node]));
  const found = new Map<string, ChangeRemark>();
  for (const link of index.links) {
    if (!link.segments.some((name) => segments.includes(name))) continue;
    for (const { id, node, survey } of link.ends) {
      const { name, frameBytes, unread } = node.declared;
      if (unread !== undefined) {
        if (frameBytes !== undefined || set.has(name)) continue;
        found.set(name, {
          kind: 'unknown',
          on: name,
          what: 'is read by nobody, and what it passes is not declared',
          remedy: `look at it, and declare frame: of ${name}`,
        });
      } else if (node.gap !== undefined)
        found.set(name, {
          kind: 'unknown',
          on: name,
          what: `could not be read: ${node.gap.words}`,
          remedy: 'read it before the change is made',
        });
      else if (doubtfulMtu(node) !== undefined)
        found.set(name, {
          kind: 'unknown',
          on: name,
          what: `tells an MTU that may be untrue: ${doubtfulMtu(node)?.words}`,
          remedy: 'look at it before the change is made',
        });
      else if (survey?.facts.mtuBytes === undefined && !set.has(id))
        found.set(id, {
          kind: 'unknown',
          on: id,
          what: 'has an MTU that could not be read',
          remedy: 'look at it before the change is made',
        });
    }
  }
  return [...found.values()];
}

/** What a step puts at risk. */
function cautionsOf(index: SiteIndex, step: ChangeStep): ChangeRemark[] {
  const view = index.nodes.get(step.node);
  const { portName } = step;
  if (view !== undefined && isWordOnly(view, step)) return [wordOnly(step)];
  if (view?.survey === undefined || portName === undefined) return [];
  return [...wayInCaution(index, step), ...slowPort(index, step)];
}

/** A whole node that nobody reads is set. */
function isWordOnly({ declared }: NodeView, { setting, port, arrives }: ChangeStep): boolean {
  return (
    declared.unread !== undefined &&
    setting === 'mtu' &&
    port === undefined &&
    arrives === undefined
  );
}

/** Many switches that nobody manages have no such setting (common practice). */
function wordOnly({ node, to }: ChangeStep): ChangeRemark {
  return {
    kind: 'caution',
    on: node,
    what: `is read by nobody, and may have nothing to set: a switch without management passes what it was built for, whatever this change says`,
    remedy: `look up in its data sheet that it passes ${String(to)} bytes, and try it once with the largest packet`,
  };
}

function wayInCaution(index: SiteIndex, step: ChangeStep): ChangeRemark[] {
  const view = index.nodes.get(step.node);
  if (view === undefined || step.port === undefined || step.disturbs === 'nothing') return [];
  // What a cord that is taken away cuts off is told by what is left.
  if (step.to === noPort) return [];
  const remedy =
    'have its console at hand, and a timer that sets the old value back unless you stop it';
  const way = wayIn(view);
  const on = step.port;
  if (way?.has(step.portName ?? '') === true)
    return [
      {
        kind: 'caution',
        on,
        what: `carries the address by which its node is read: a step there takes your own way in down for a moment, and ${wrongValue(step)}`,
        remedy,
      },
    ];
  if (way !== undefined || view.forwards) return [];
  const what = `may carry the address by which ${step.node} is read: which port does is not known`;
  return [{ kind: 'caution', on, what, remedy }];
}

/** What is left of a way over a port that was set to a wrong value. */
function wrongValue({ setting }: ChangeStep): string {
  return setting === 'mtu'
    ? 'with a wrong value short answers still come, and long ones may hang'
    : 'a wrong value cuts you off';
}

/** At and below 100 Mb/s many switches drop packets above 1500 (common practice). */
function slowPort(index: SiteIndex, step: ChangeStep): ChangeRemark[] {
  const view = index.nodes.get(step.node);
  if (view?.forwards !== true || step.setting !== 'mtu' || step.port === undefined) return [];
  const facts = portRef(index.ports, view, step.portName ?? '').survey?.facts;
  const { speedMbps = Infinity, operUp } = facts ?? {};
  if (typeof step.to !== 'number' || step.to <= 1522 || operUp !== true || speedMbps > 100)
    return [];
  return [
    {
      kind: 'caution',
      on: step.port,
      what: `runs at ${speedMbps} Mb/s: at that speed many switches drop packets above 1500 bytes whatever their MTU says`,
      remedy: 'bring the link to 1 Gb/s or more, or take it out of the segment',
    },
  ];
}

function reloads(steps: readonly ChangeStep[]): ChangeRemark[] {
  const nodes = new Set(steps.filter((s) => s.disturbs === 'node-reload').map(({ node }) => node));
  return [...nodes].map((on) => ({
    kind: 'caution',
    on,
    what: 'restarts for this: everything that runs through it stops until it is back',
    remedy:
      'set all its ports first and restart it once, with its saved configuration looked at before',
  }));
}
