import type { SeenFact } from '../cause.ts';
import { type EndView, readFact } from '../end-view.ts';
import { isVirtualLink, type LinkView } from '../link-view.ts';
import { bothEnds, elementIds, type LinkRule } from './cause-rule.ts';
import { swapTest } from './swap-test.ts';

const secondsPerDay = 86_400;
/** Losses of link a day that are worth a warning (common practice: three). */
const lossesPerDayMin = 3;

/** How often the link went down at an end; undefined: not counted, or for less than a day. */
function lossesOf(end: EndView): SeenFact | undefined {
  const uptime = end.node?.survey?.facts.uptimeSeconds;
  const { linkDownEvents, carrierChanges } = end.facts;
  // A change is a loss or a return.
  const losses =
    linkDownEvents ?? (carrierChanges === undefined ? undefined : Math.floor(carrierChanges / 2));
  // Links come and go while a system starts, so that a short life says little.
  if (uptime === undefined || losses === undefined || uptime < secondsPerDay) return undefined;
  const days = uptime / secondsPerDay;
  if (losses / days < lossesPerDayMin) return undefined;
  const fact = linkDownEvents === undefined ? 'carrierChanges' : 'linkDownEvents';
  const says = `${end.id} lost its link ${losses} times in ${Math.round(days * 10) / 10} days`;
  return readFact(end, says, fact);
}

function lossesOn(view: LinkView): readonly SeenFact[] {
  return isVirtualLink(view) ? [] : view.ends.flatMap((end) => lossesOf(end) ?? []);
}

function saving({ ends }: LinkView): readonly SeenFact[] {
  return ends
    .filter(({ facts }) => facts.eeeActive === true)
    .map((end) => readFact(end, `energy saving is in use at ${end.id}`, 'eeeActive'));
}

/** Losses of link while energy saving is in use: it may be that, so it is worth a look. */
export const eee: LinkRule = (view) => {
  const [losses, active] = [lossesOn(view), saving(view)];
  const [end] = view.ends.filter(({ facts }) => facts.eeeActive === true);
  if (losses.length === 0 || end === undefined) return [];
  return [
    {
      kind: 'eee',
      proof: 'check',
      what: `Energy-Efficient Ethernet (IEEE 802.3az), in use between ${bothEnds(view)}`,
      element: elementIds.end(end),
      for: [...losses, ...active],
      remedy: 'switch energy saving off at one end for a day',
      settledBy: `switch energy saving off at ${end.id} for a day and count the losses of link again`,
    },
  ];
};

/** The link comes and goes. */
export const flaps: LinkRule = (view) => {
  const losses = lossesOn(view);
  if (losses.length === 0) return [];
  return [
    {
      kind: 'flaps',
      proof: 'likely',
      what: `a plug, a cable or the power of a port between ${bothEnds(view)}: the link comes and goes`,
      element: elementIds.run,
      for: losses,
      against: saving(view).length === 0 ? [] : [{ says: 'energy saving can do that too' }],
      remedy: 'reseat the plugs and replace the cords; look at the power of the far device',
      settledBy: `${swapTest(view)}; count the losses of link for a day`,
    },
  ];
};
