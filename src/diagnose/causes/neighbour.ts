import type { EndView } from '../end-view.ts';
import { elementIds, type LinkRule } from './cause-rule.ts';

/** Another port or node is at the other end than declared, or the declared one is elsewhere. */
export const moved: LinkRule = (view) => {
  const odd = view.ends.find(({ port }) => {
    const { neighbourDeclared, farEndElsewhere } = port.subject.facts;
    return neighbourDeclared === false || farEndElsewhere === true;
  });
  if (odd === undefined) return [];
  const { neighbour, neighbourKnownBy, foundOn, farPort } = odd.port.subject.facts;
  const found = Array.isArray(foundOn) && foundOn.length > 0 ? foundOn.join(' and ') : undefined;
  const heard = typeof neighbour === 'string' ? [`${odd.id} hears ${neighbour}`] : [];
  const source = neighbourKnownBy === 'lldp' ? 'LLDP' : 'forwarding table';
  return [
    {
      kind: 'moved',
      proof: 'is',
      what: `a cord that is plugged in elsewhere: ${String(farPort)} is not at ${odd.id}${found === undefined ? '' : `; it is found on ${found}`}`,
      element: elementIds.run,
      for: [
        ...heard.map((says) => ({ says, source })),
        ...(found === undefined ? [] : [{ says: `${String(farPort)} is heard on ${found}` }]),
        { says: `the intent declares ${String(farPort)} there` },
      ],
      remedy: 'move the cord back, or correct the link in the intent',
      settledBy: `follow the cord from ${odd.id}, and read who is heard there again`,
    },
  ];
};

/** A port of a switch that does not carry the VLAN of a segment that the link declares. */
export const vlanMissing: LinkRule = (view) =>
  view.ends.flatMap((end) => {
    const missing = missingVlans(end);
    if (missing.length === 0) return [];
    const vlans = missing.join(' and ');
    return [
      {
        kind: 'vlan',
        proof: 'is',
        what: `the VLANs of ${end.id}: it does not carry VLAN ${vlans} as declared`,
        element: elementIds.end(end),
        for: [{ says: `VLAN ${vlans} is declared on the link and not on ${end.id}` }],
        remedy: `add VLAN ${vlans} to ${end.id}, tagged or not as the link declares`,
        settledBy: `read the VLANs of ${end.id} again`,
      } as const,
    ];
  });

function missingVlans({ port }: EndView): readonly (string | number)[] {
  const { vlansMissing } = port.subject.facts;
  return Array.isArray(vlansMissing) ? vlansMissing : [];
}
