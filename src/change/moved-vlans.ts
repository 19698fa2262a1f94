import type { Intent } from '../intent/types.ts';
import { vlansMissingAt } from '../site/port-vlans.ts';
import { indexSite, type PortRef, type SiteIndex } from '../site/site-index.ts';
import type { ForetoldState } from './foretell.ts';
import type { ChangeRemark } from './types.ts';

/** Names of the segments whose VLAN is another after a change. */
export function movedVlans(before: Intent, after: Intent): ReadonlySet<string> {
  const was = new Map(before.segments.map(({ name, vlan }) => [name, vlan]));
  return new Set(
    after.segments.flatMap(({ name, vlan }) =>
      was.has(name) && was.get(name) !== vlan ? [name] : [],
    ),
  );
}

/**
 * An intent that leaves open in which VLAN some segments are. No step moves a port into a VLAN, so
 * that in no state of a change is it known which of both it is in.
 */
export function withVlansOpen(intent: Intent, names: ReadonlySet<string>): Intent {
  if (names.size === 0) return intent;
  const segments = intent.segments.map((segment) => {
    const { vlan: _, ...rest } = segment;
    return names.has(segment.name) ? rest : segment;
  });
  return { ...intent, segments };
}

/**
 * Ports that `after` declares in VLANs that they do not carry, where a link was declared at them
 * before that they carried, or where the segment moves: no step sets a VLAN, so that a person has
 * to. `after` is the state once all steps are done.
 */
export function vlanRemarks(before: Intent, after: ForetoldState): ChangeRemark[] {
  const index = indexSite(after.intent, after.survey, { strict: false });
  const was = indexSite(before, after.survey, { strict: false });
  const endsBefore = new Map(was.links.flatMap(({ ends }) => ends.map((ref) => [ref.id, ref])));
  const moved = movedVlans(before, after.intent);
  const numbers = new Set(
    after.intent.segments.flatMap(({ name, vlan }) => (moved.has(name) ? [vlan] : [])),
  );
  const lacking = index.links.flatMap(({ ends }) =>
    ends.flatMap((ref) => {
      const old = endsBefore.get(ref.id);
      const known = new Set(old === undefined ? [] : lacks(was, old));
      return lacks(index, ref)
        .filter((vlan) => numbers.has(vlan) || (old !== undefined && !known.has(vlan)))
        .map((vlan) => forgotten(ref, vlan));
    }),
  );
  return [...lacking, ...movedRemarks(before, after.intent)];
}

/** VLANs of the links of a port that are known to be missing there. */
function lacks(index: SiteIndex, ref: PortRef): readonly number[] {
  if (ref.node.gap !== undefined) return [];
  return ref.node.forwards ? (vlansMissingAt(index, ref) ?? []) : interfacesMissing(index, ref);
}

/** Tagged VLANs of a port of a host on which no interface of that VLAN stands. */
function interfacesMissing(index: SiteIndex, { node, name, survey, ends }: PortRef): number[] {
  const tagged = ends[0]?.link.declared.tagged ?? [];
  if (survey === undefined || node.declared.unread !== undefined) return [];
  const above = node.uppers.get(name) ?? [];
  const stacked = [...above, ...above.flatMap((upper) => node.uppers.get(upper) ?? [])];
  const there = stacked.map((upper) => node.ports.get(upper)?.facts.vlanId);
  return tagged.flatMap((segment) => {
    const vlan = index.segments.get(segment)?.vlan;
    return vlan === undefined || there.includes(vlan) ? [] : [vlan];
  });
}

function forgotten({ id, node }: PortRef, vlan: number): ChangeRemark {
  const where = node.forwards ? `the membership of VLAN ${vlan}` : `an interface of VLAN ${vlan}`;
  return {
    kind: 'forgotten',
    on: id,
    what: `lacks ${where} that is declared from now on: hopgauge has no step that sets VLANs`,
    remedy: `set VLAN ${vlan} there by hand, in this change`,
  };
}

/** That paths over such a segment are not told apart by its VLAN, old or new. */
function movedRemarks(before: Intent, after: Intent): ChangeRemark[] {
  const was = new Map(before.segments.map(({ name, vlan }) => [name, vlan]));
  return [...movedVlans(before, after)].map((on) => {
    const [old, now] = [was.get(on), after.segments.find(({ name }) => name === on)?.vlan];
    return {
      kind: 'unknown',
      on,
      what: `is moved from ${vlanWords(old)} to ${vlanWords(now)}: while its ports change over by hand, which of them still reach each other is not known, and no state here counts that`,
      remedy: 'change both ends of each link together, the ends of paths last',
    };
  });
}

function vlanWords(vlan: number | undefined): string {
  return vlan === undefined ? 'no VLAN of its own' : `VLAN ${vlan}`;
}
