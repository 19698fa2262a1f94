import { directionFacts } from './direction-facts.ts';
import type { FactEntry } from './entry.ts';
import { linkAggregateFacts } from './link-aggregate-facts.ts';
import { linkAgreementFacts } from './link-agreement-facts.ts';
import { linkFacts } from './link-facts.ts';
import { linkPhysicsFacts } from './link-physics-facts.ts';
import { nodeFacts } from './node-facts.ts';
import { pathFacts } from './path-facts.ts';
import { portDerivedFacts } from './port-derived-facts.ts';
import { portReadFacts } from './port-facts.ts';
import { portNeighbourFacts } from './port-neighbour-facts.ts';
import { portPacketFacts } from './port-packet-facts.ts';
import { portPhysicsFacts } from './port-physics-facts.ts';
import { segmentFacts } from './segment-facts.ts';

/** What a rule may judge, in the order of reports. */
export const subjectKinds = ['node', 'port', 'link', 'segment', 'path', 'direction'] as const;
/** A kind of thing that a rule judges. */
export type SubjectKind = (typeof subjectKinds)[number];

/**
 * The one dictionary of facts. The survey's schema, the static check of policies, the list of
 * `hopgauge rules --facts` and the types all come from it; a name is spelled once.
 */
export const dictionary: Readonly<Record<SubjectKind, Readonly<Record<string, FactEntry>>>> = {
  node: nodeFacts,
  port: {
    ...portReadFacts,
    ...portDerivedFacts,
    ...portPacketFacts,
    ...portNeighbourFacts,
    ...portPhysicsFacts,
  },
  link: { ...linkFacts, ...linkAgreementFacts, ...linkAggregateFacts, ...linkPhysicsFacts },
  segment: segmentFacts,
  path: pathFacts,
  direction: directionFacts,
};
