import { rateWords } from '../../ethernet/run-brake.ts';
import type { SiteLink } from '../../site/types.ts';
import type { SeenFact } from '../cause.ts';
import { type EndView, readFact } from '../end-view.ts';
import { type LinkView, slowestMbps } from '../link-view.ts';
import { elementIds, type LinkRule } from './cause-rule.ts';

/** A member without link while another runs: half the aggregate is gone and nobody notices. */
export const memberDown: LinkRule = (view) => {
  const running = view.siblings.filter((each) => each.ends.some(isUp));
  if (view.up !== false || running.length === 0) return [];
  const down = view.ends.filter(({ facts }) => facts.operUp === false);
  return [
    {
      kind: 'lag-member',
      proof: 'is',
      what: `a member of the aggregate ${lagOf(view)} without link; the others carry all of its traffic`,
      element: elementIds.run,
      for: [
        ...down.map((end) => readFact(end, `${end.id} has no link`, 'operUp')),
        ...running.map(({ declared }) => ({ says: `the member ${declared.id} is up` })),
      ],
      remedy: 'reseat or replace its cable, then look whether the member joins again',
      settledBy: 'exchange the cables of two members and look whether the fault moves along',
    },
  ];
};

/** A member that is up and that the host does not use in the aggregate. */
export const memberLeftOut: LinkRule = (view) => {
  if (view.up === false) return [];
  return view.ends.flatMap((end) => {
    const bond = bondOfSibling(view, end);
    if (bond === undefined) return [];
    return [
      {
        kind: 'lag-member',
        proof: 'is',
        what: `the configuration of ${end.id}: it is declared in the aggregate ${lagOf(view)} and is not in ${bond}`,
        element: elementIds.end(end),
        for: [
          { says: `${bond} is built on other members and not on ${end.id}` },
          ...(end.facts.operUp === true ? [readFact(end, `${end.id} is up`, 'operUp')] : []),
        ],
        remedy: `put ${end.id} into ${bond}, and look at the aggregation settings of the far end`,
        settledBy: `read the members of ${bond} again`,
      } as const,
    ];
  });
};

function bondOfSibling(view: LinkView, end: EndView): string | undefined {
  const mates = view.siblings.flatMap(({ ends }) =>
    ends.flatMap((port) => (port.node === end.port.node ? (port.survey?.name ?? []) : [])),
  );
  const own = end.port.survey?.name;
  if (own === undefined || mates.length === 0) return undefined;
  const bond = end.node?.survey?.ports.find(
    ({ facts }) =>
      facts.kind === 'bond' && facts.lowerPorts?.some((name) => mates.includes(name)) === true,
  );
  if (bond === undefined || bond.facts.lowerPorts?.includes(own) === true) return undefined;
  return `${end.port.node}:${bond.name}`;
}

/** Members at different speeds: the slower ones are left out or slow all down. */
export const mixedMembers: LinkRule = (view) => {
  const own = slowestMbps(view);
  if (own === undefined) return [];
  const faster = view.siblings.flatMap((each) => {
    const speeds = each.ends.flatMap(({ survey }) => survey?.facts.speedMbps ?? []);
    const speed = speeds.length === 0 ? 0 : Math.min(...speeds);
    return speed > own ? [{ id: each.declared.id, speed }] : [];
  });
  if (faster.length === 0) return [];
  const slow = view.ends.filter(({ facts }) => facts.speedMbps === own);
  return [
    {
      kind: 'lag-mixed',
      proof: 'is',
      what: `members of unequal speed in the aggregate ${lagOf(view)}: this slower one is left out of it`,
      ...(slow[0] === undefined ? {} : { element: elementIds.end(slow[0]) }),
      for: [
        ...slow.map((end) => readFact(end, `${end.id} runs at ${rateWords(own)}`, 'speedMbps')),
        ...faster.map(
          ({ id, speed }): SeenFact => ({ says: `the member ${id} runs at ${rateWords(speed)}` }),
        ),
      ],
      remedy: 'bring all members to one speed (IEEE 802.1AX aggregates links of one speed)',
      settledBy: 'exchange the cables of two members and look whether the slow speed moves along',
    },
  ];
};

function isUp({ survey }: SiteLink['ends'][number]): boolean {
  return survey?.facts.operUp === true;
}

function lagOf({ link }: LinkView): string {
  return link.declared.lag ?? '';
}
