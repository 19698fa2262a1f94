import type { FactEntry } from './entry.ts';

const once = 'no member of an aggregate, told at another member, or not known of two members';

/** How the members of an aggregate agree; told at one link of it, that of the odd member. */
export const linkAggregateFacts = {
  movedLink: {
    type: 'text',
    origin: 'derived',
    meaning:
      'The first of the links that one mistake with cords explains together, where this is one',
    absentWhen: 'nothing moved at either end',
    sources: ['port.movedLink'],
  },
  memberAggregatorsEqual: {
    type: 'flag',
    origin: 'derived',
    meaning: 'The members on each node are attached to one aggregator',
    label: 'whether its members are in one aggregate',
    absentWhen: once,
    sources: ['port.aggregatorId'],
  },
  memberPartnersEqual: {
    type: 'flag',
    origin: 'derived',
    meaning: 'The members on each node have one partner system',
    label: 'whether its members lead to one system',
    absentWhen: once,
    sources: ['port.lacpPartnerSystem'],
  },
  memberSpeedsEqual: {
    type: 'flag',
    origin: 'derived',
    meaning: 'The members on each node run at one speed',
    label: 'whether its members run at one speed',
    absentWhen: once,
    sources: ['port.speedMbps'],
  },
  memberSpeedsMbps: {
    type: 'numbers',
    origin: 'derived',
    unit: 'Mb/s',
    meaning: 'Speeds of the members that are up',
    absentWhen: once,
    sources: ['port.speedMbps'],
  },
  aggregateMembersMissing: {
    type: 'texts',
    origin: 'derived',
    meaning: 'Ports that are declared as members and are not in the aggregate of their node',
    label: 'which declared members are in its aggregate',
    absentWhen: 'no member of an aggregate, told at another member, or no node tells of one',
    sources: ['port.aggregate, port.lowerPorts against intent links.*.lag'],
  },
} as const satisfies Record<string, FactEntry>;
