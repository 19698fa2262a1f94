import { byName } from '../facts/order.ts';
import type { Intent } from '../intent/types.ts';
import { vlansMissingAt } from '../site/port-vlans.ts';
import type { SiteIndex } from '../site/site-index.ts';
import type { ChangeRemark } from './types.ts';

/** Ports that are named, at most. */
const portsShownMax = 12;

/**
 * Segments that a second intent puts into another VLAN: which VLANs a port carries is set by no
 * step, so that it is forgotten wherever a port is known not to carry the new one. `index` joins
 * what is declared after the change with what was read.
 */
export function vlanRemarks(before: Intent, index: SiteIndex): readonly ChangeRemark[] {
  const vlanBefore = new Map(before.segments.map(({ name, vlan }) => [name, vlan]));
  return index.intent.segments.flatMap(({ name, vlan }): ChangeRemark[] => {
    const was = vlanBefore.get(name);
    if (vlan === undefined || !vlanBefore.has(name) || was === vlan) return [];
    const ports = portsWithout(index, name, vlan);
    if (ports.length === 0) return [];
    const shown = ports.slice(0, portsShownMax).join(', ');
    const left = ports.length - portsShownMax;
    return [
      {
        kind: 'forgotten',
        on: `segment ${name}`,
        what: `comes into VLAN ${vlan}${was === undefined ? '' : `, and is in ${was} now`}: no step sets which VLANs a port carries, and ${shown}${left > 0 ? ` and ${left} more` : ''} ${ports.length === 1 ? 'does' : 'do'} not carry it; until that is set, its ends are told as not joined`,
        remedy: `set VLAN ${vlan} on those ports by hand, in this change and before its steps`,
      },
    ];
  });
}

function portsWithout(index: SiteIndex, segment: string, vlan: number): string[] {
  const over = index.links.filter(({ segments }) => segments.includes(segment));
  const ends = over.flatMap((link) => link.ends);
  const lacking = ends.filter(
    (end) => end.node.gap === undefined && (vlansMissingAt(index, end) ?? []).includes(vlan),
  );
  return [...new Set(lacking.map(({ id }) => id))].sort(byName);
}
