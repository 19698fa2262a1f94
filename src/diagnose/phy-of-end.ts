import { phyOfPort } from '../site/phy-of-port.ts';
import type { EndView } from './end-view.ts';
import { type LinkView, mediumOf } from './link-view.ts';

/** The PHY in use at an end of a link, by all that tells it. Undefined: nothing tells. */
export function phyOfEnd(view: LinkView, end: EndView): string | undefined {
  return phyOfPort(end.facts, end, mediumOf(view));
}
