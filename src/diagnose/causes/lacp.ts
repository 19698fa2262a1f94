import { bothEnds, elementIds, type LinkRule } from './cause-rule.ts';

/** A member with link that LACP does not have in step. */
export const memberOutOfStep: LinkRule = (view) =>
  view.ends.flatMap((end) => {
    if (end.port.subject.facts['memberDistributes'] !== false || view.up === false) return [];
    return [
      {
        kind: 'lag-member',
        proof: 'is',
        what: `LACP at ${end.id}: it has a link and is left out of its aggregate`,
        element: elementIds.end(end),
        for: [
          { says: `${end.id} does not collect and distribute`, source: 'IEEE 802.1AX 6.4.2.3' },
        ],
        remedy: 'see that the far port is in an aggregate that uses LACP, and in the same one',
        settledBy: `read the LACP state of ${end.id} and of its partner again`,
      } as const,
    ];
  });

/** Members of one declared aggregate that lead to several systems, or stand in several. */
export const membersApart: LinkRule = (view) => {
  const { memberPartnersEqual, memberAggregatorsEqual, lag } = view.link.subject.facts;
  const partners = memberPartnersEqual === false;
  if (!partners && memberAggregatorsEqual !== false) return [];
  const says = partners
    ? `the members of ${String(lag)} lead to different systems`
    : `the members of ${String(lag)} are not in one aggregate`;
  return [
    {
      kind: 'lag-member',
      proof: 'is',
      what: `the aggregate ${String(lag)} at ${bothEnds(view)}: ${says}`,
      element: elementIds.run,
      for: [{ says, source: 'IEEE 802.1AX 6.3.7' }],
      remedy:
        'follow the cords of all members, and put their ports into one aggregate at both ends',
      settledBy: 'read the partner system and the aggregator of each member again',
    },
  ];
};
