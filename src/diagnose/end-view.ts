import type { Duplex, OfferedModes } from '../ethernet/link-mode.ts';
import type { SideModes } from '../ethernet/side-limit.ts';
import type { PortReadFacts } from '../facts/port-facts.ts';
import { sourceOf } from '../facts/subject.ts';
import type { DeclaredNode } from '../intent/types.ts';
import { offeredModes } from '../site/port-modes.ts';
import type { Site, SiteNode, SitePort } from '../site/types.ts';
import type { SeenFact } from './cause.ts';

/** One end of a link with what was read of it. */
export interface EndView {
  /** `node:port`. */
  readonly id: string;
  readonly port: SitePort;
  readonly node: SiteNode | undefined;
  readonly declaredNode: DeclaredNode | undefined;
  readonly facts: PortReadFacts;
  readonly duplex?: Duplex;
  /** Undefined: not known. */
  readonly virtual?: boolean;
  readonly mayBeDown: boolean;
  readonly capable?: OfferedModes;
  readonly advertised?: OfferedModes;
  readonly partner?: OfferedModes;
}

/** Looks at one end of a link. */
export function viewEnd(site: Site, port: SitePort): EndView {
  const node = site.nodes.find(({ declared }) => declared.name === port.node);
  const facts = port.survey?.facts ?? {};
  const { duplex, virtual, mayBeDown } = port.subject.facts;
  const modes = {
    capable: offered(port, 'supportedModes'),
    advertised: offered(port, 'advertisedModes'),
    partner: offered(port, 'partnerModes'),
  };
  return {
    id: port.id,
    port,
    node,
    declaredNode: node?.declared,
    facts,
    ...(duplex === 'full' || duplex === 'half' ? { duplex } : {}),
    ...(typeof virtual === 'boolean' ? { virtual } : {}),
    mayBeDown: mayBeDown === true,
    ...Object.fromEntries(Object.entries(modes).filter(([, list]) => list !== undefined)),
  };
}

type ModeFact = 'supportedModes' | 'advertisedModes' | 'partnerModes';

function offered(port: SitePort, fact: ModeFact): OfferedModes | undefined {
  const texts = port.survey?.facts[fact] ?? [];
  return offeredModes(texts, sourceOf(port.subject, fact) ?? '');
}

/** What an end says of itself; `seen` is what its partner was seen to do where it says nothing. */
export function sideOf(end: EndView, seen?: EndView): SideModes {
  const advertised = seen?.partner ?? end.advertised;
  const auto = end.facts.autoNegotiation ?? seen?.facts.partnerAutoNegotiation;
  return {
    ...(advertised === undefined ? {} : { advertised }),
    ...(end.capable === undefined ? {} : { capable: end.capable }),
    ...(auto === undefined ? {} : { autoNegotiation: auto }),
  };
}

/** Something that was read at an end, with its source. */
export function readFact(end: EndView, says: string, fact: keyof PortReadFacts): SeenFact {
  const source = sourceOf(end.port.subject, fact);
  return { says, ...(source === undefined ? {} : { source }) };
}
