import type { Gap } from '../facts/gap.ts';
import type { Subject } from '../facts/subject.ts';
import type { SessionReading } from '../facts/survey.ts';
import { nodeAddresses } from './addresses.ts';
import type { ChosenRoute } from './choose-route.ts';
import { putProofs } from './direction-proof.ts';
import { missingPort } from './missing-port.ts';
import type { NodeView } from './node-view.ts';
import type { HopPlan, PathPlan } from './path-plan.ts';
import type { DirectionProofs, PathProofs } from './path-proofs.ts';
import { type Draft, gapOf, newDraft, nothingShared, ownProvenance, put } from './provenance.ts';
import { putRouted } from './routed-whole.ts';
import { overheadOf } from './session-overhead.ts';
import { portId } from './site-index.ts';
import type { SiteDirection, SitePath } from './types.ts';

interface OneWay {
  readonly side: 'from' | 'to';
  readonly sender: NodeView;
  readonly receiver: NodeView;
  readonly route: ChosenRoute | undefined;
  readonly doors: readonly string[];
  /** Links whose ends share no subnet. */
  readonly strangers: ReadonlySet<string>;
  readonly proofs: DirectionProofs;
}

/** What directions are told of besides their path. */
export interface AroundPath {
  /** Links whose ends share no subnet. */
  readonly strangers: ReadonlySet<string>;
  readonly proofs: PathProofs;
}

/** Both directions of a path, each as its sender sees it. */
export function siteDirections(
  plan: PathPlan,
  path: SitePath,
  { strangers, proofs }: AroundPath,
): SiteDirection[] {
  const { from, to } = plan;
  return [
    direction(plan, path, {
      ...{ side: 'from', sender: from, receiver: to },
      ...{ route: plan.routeThere, doors: plan.doorsFrom, strangers, proofs: proofs.there },
    }),
    direction(plan, path, {
      ...{ side: 'to', sender: to, receiver: from },
      ...{ route: plan.routeBack, doors: plan.doorsTo, strangers, proofs: proofs.back },
    }),
  ];
}

function direction(plan: PathPlan, path: SitePath, way: OneWay): SiteDirection {
  const [from, to] = [way.sender.declared.name, way.receiver.declared.name];
  const id = `${plan.declared.name}: ${from} to ${to}`;
  const draft = newDraft();
  put(draft, 'id', id);
  put(draft, 'path', path.id);
  put(draft, 'from', from);
  put(draft, 'to', to);
  put(draft, 'declaredMtuBytes', plan.mtuBytes);
  put(draft, 'declaredGoodputMbps', plan.declared.goodputMbps);
  const narrowest = path.subject.facts['narrowestPort'];
  put(draft, 'narrowestPort', narrowest, path.subject.own?.gaps['narrowestPort']);
  const small = path.subject.facts['carriesDeclaredMtu'] === false;
  put(draft, 'smallPort', small ? path.subject.facts['portToRaise'] : undefined);
  putRouted(draft, path, way.side);
  putRoute(draft, plan, way);
  putSessions(draft, plan.mtuBytes, way);
  putProofs(draft, way.proofs, {
    ...{ path, side: way.side },
    ...{ declaredBytes: plan.mtuBytes, declaredMbps: plan.declared.goodputMbps },
    routeMtuBytes: way.route?.mtuBytes,
  });
  const subject: Subject = {
    kind: 'direction',
    id,
    facts: draft.facts,
    own: ownProvenance(draft),
    shared: nothingShared,
    place: plan.declared.place,
  };
  return { id, path: path.id, from, to, subject };
}

/** Why it is not known how the sender sends; undefined where nobody expected to know. */
function routeGap(plan: PathPlan, { sender, receiver }: OneWay): Gap | undefined {
  if (sender.onWord) return undefined;
  if (sender.gap !== undefined) return sender.gap;
  const peer = receiver.declared.name;
  if (nodeAddresses(receiver).length > 0) {
    const words = `no route to ${peer} on the declared way was asked for`;
    return gapOf('unasked', words, missingEnd(plan));
  }
  if (receiver.onWord) return undefined;
  const { reason, cause } = receiver.gap ?? gapOf('unasked', '');
  return gapOf(reason, `no address of ${peer} is known`, cause ?? missingEnd(plan));
}

/** The one link by which the sender is meant to leave. */
function onlyDoor({ hops }: PathPlan, side: OneWay['side']): HopPlan | undefined {
  const doors = hops.filter(
    (hop) => hop.position === side && !hop.layer && hop.linkId !== undefined,
  );
  return doors.length === 1 ? doors[0] : undefined;
}

/** That link, when it cannot be used: no route over it is then no other fault. */
function lostLink(plan: PathPlan, { side, strangers }: OneWay): string | undefined {
  const { linkId = '', ref } = onlyDoor(plan, side) ?? {};
  const lost = ref?.survey?.facts.operUp === false || strangers.has(linkId);
  return lost && linkId !== '' ? linkId : undefined;
}

/** A declared port of an end that is not there: then nobody can know the address behind it. */
function missingEnd({ hops }: PathPlan): string | undefined {
  const missing = hops.find(
    ({ position, layer, ref }) =>
      (position === 'from' || position === 'to') &&
      !layer &&
      ref.node.gap === undefined &&
      ref.survey === undefined,
  );
  return missing === undefined ? undefined : `port ${missing.ref.id}`;
}

/** Why it is not known whether the sender leaves as declared: a port it may leave by is not there. */
function lostDoor({ hops }: PathPlan, side: OneWay['side']): Gap | undefined {
  const lost = hops.find(
    ({ position, layer, ref }) =>
      position === side && !layer && ref.node.gap === undefined && ref.survey === undefined,
  );
  return lost === undefined ? undefined : missingPort(lost.ref);
}

function putRoute(draft: Draft, plan: PathPlan, way: OneWay): void {
  const { side, sender, route, doors } = way;
  const lost = lostLink(plan, way);
  put(draft, 'lostLink', lost);
  const gap = routeGap(plan, way);
  put(draft, 'toAddress', route?.to, gap);
  const device = route?.device;
  const none: Gap | undefined = route
    ? gapOf(
        'unreachable',
        `no route to ${route.to}: ${route.words ?? 'nothing said'}`,
        lost === undefined ? undefined : `link ${lost}`,
      )
    : gap;
  const leavesBy = device === undefined ? undefined : portId(sender, device);
  put(draft, 'leavesBy', leavesBy, none);
  put(draft, 'declaredPorts', doors);
  if (doors.length > 0) {
    const declared = leavesBy === undefined ? undefined : doors.includes(leavesBy);
    // A port that was renamed is found again under its new name, and the route is then as declared.
    const lost = declared === false ? lostDoor(plan, side) : undefined;
    put(draft, 'leavesByDeclaredPort', lost ? undefined : declared, lost ?? none);
  }
  put(draft, 'routeMtuBytes', route?.mtuBytes, route === undefined ? gap : undefined);
  for (const name of ['toAddress', 'leavesBy', 'routeMtuBytes'])
    if (route !== undefined && draft.facts[name] !== undefined) draft.sources[name] = route.source;
}

function putSessions(draft: Draft, declaredBytes: number | undefined, way: OneWay): void {
  const { sender } = way;
  if (sender.gap !== undefined) {
    const gap = sender.onWord ? undefined : sender.gap;
    put(draft, 'sessionBytes', undefined, gap);
    if (declaredBytes !== undefined) put(draft, 'farEndSmall', undefined, gap);
    return;
  }
  const session = largestSession(way);
  // That nobody happened to be connected is no failure: nothing was expected.
  if (session === undefined) return;
  const overhead = overheadOf(session);
  const bytes = session.segmentBytes + overhead;
  put(draft, 'sessionBytes', bytes);
  draft.sources['sessionBytes'] =
    `live TCP sessions, segments of ${session.segmentBytes} bytes and ${overhead} of headers`;
  if (declaredBytes === undefined) return;
  const offered = session.advertisedBytes;
  const small =
    bytes >= declaredBytes ? false : offered === undefined ? undefined : offered + overhead > bytes;
  put(
    draft,
    'farEndSmall',
    small,
    gapOf('unsupported', 'the segment that is offered is not printed'),
  );
}

/** Of the sessions with the address that the path goes to, else with any of the receiver's. */
function largestSession({ sender, receiver, route }: OneWay): SessionReading | undefined {
  const sessions = sender.survey?.sessions ?? [];
  const addresses = new Set(nodeAddresses(receiver));
  const exact = sessions.filter((session) => session.remote === route?.to);
  const wider = sessions.filter((session) => addresses.has(session.remote));
  const chosen = route === undefined ? wider : exact;
  return chosen.toSorted((a, b) => b.segmentBytes - a.segmentBytes)[0];
}
