import { bothEnds, elementIds, type LinkRule } from './cause-rule.ts';

/** A cable between two hosts that no common subnet uses. */
export const noCommonSubnet: LinkRule = (view) => {
  const { endsShareSubnet, endAddresses } = view.link.subject.facts;
  if (endsShareSubnet !== false) return [];
  const addresses = Array.isArray(endAddresses) ? endAddresses.map(String) : [];
  return [
    {
      kind: 'no-common-subnet',
      proof: 'is',
      what: `the addresses of ${bothEnds(view)}: they have no common subnet, so that traffic takes another way`,
      element: elementIds.end(view.ends[1]),
      for: addresses.map((says) => ({ says })),
      remedy:
        'give both ends addresses of one subnet that is used nowhere else, and mount by that address',
      settledBy: `ask both ends for their route to each other after the change`,
    },
  ];
};
