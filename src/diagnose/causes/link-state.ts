import { commonModes } from '../../ethernet/link-modes.ts';
import { listMayHide } from '../../ethernet/side-limit.ts';
import { highestMbps } from '../../site/port-modes.ts';
import type { CauseDraft } from '../cause.ts';
import { type EndView, readFact } from '../end-view.ts';
import { mediumOf } from '../link-view.ts';
import { bothEnds, elementIds, type LinkRule } from './cause-rule.ts';

/** A port without hardware: its speed is made up, so there is nothing to explain. */
export const virtualPort: LinkRule = ({ ends }) =>
  ends
    .filter((end) => end.virtual === true)
    .map((end) => ({
      kind: 'virtual-port',
      proof: 'is',
      fault: false,
      what: `${end.id} is virtual: the speed that it reports is made up and says nothing`,
      element: elementIds.end(end),
      for: [
        readFact(end, `its kind is ${end.facts.kind ?? 'not told'}`, 'kind'),
        ...(end.facts.driver === undefined
          ? []
          : [readFact(end, `its driver is ${end.facts.driver}`, 'driver')]),
      ],
      remedy: 'judge the physical port below it',
      settledBy: 'read the physical port that it stands on',
    }));

/** No link, and a node that is declared to sleep or to be away gives no answer. */
export const asleep: LinkRule = ({ up, ends }) => {
  const away = ends.find((end) => end.mayBeDown);
  if (up !== false || away === undefined) return [];
  return [
    {
      kind: 'asleep',
      proof: 'is',
      fault: false,
      what: 'no link, with an end that is declared to sleep or to be away at times',
      for: [...noLink(ends), { says: 'a node of the link is so declared and gives no answer' }],
      remedy: 'wake it and look again, if it should be there',
      settledBy: 'wake the node and read again',
    },
  ];
};

/** An end that is switched off by its own configuration. */
export const switchedOff: LinkRule = ({ ends }) =>
  ends
    .filter(({ facts }) => facts.adminUp === false)
    .map((end) => ({
      kind: 'switched-off',
      proof: 'is',
      what: `the configuration of ${end.id}: the port is switched off`,
      element: elementIds.end(end),
      for: [readFact(end, `${end.id} is switched off`, 'adminUp')],
      remedy: `switch ${end.id} on, if it was not switched off on purpose`,
      settledBy: `switch ${end.id} on and read again`,
    }));

/** Both ends fixed at speeds that differ, or negotiating with nothing in common: no link can be. */
export const forcedApart: LinkRule = (view) => {
  const [a, b] = view.ends;
  if (view.up !== false || a.advertised === undefined || b.advertised === undefined) return [];
  const fixed = [a, b].every(({ facts }) => facts.autoNegotiation === false);
  const [first, second] = [highestMbps(a.advertised), highestMbps(b.advertised)];
  const apart = fixed ? first !== second : nothingCommon(a, b);
  if (!apart) return [];
  return [
    {
      kind: 'forced-apart',
      proof: 'is',
      what: fixed
        ? `the configuration: ${bothEnds(view)} are fixed at different speeds`
        : `the configuration: ${bothEnds(view)} offer no mode in common`,
      element: elementIds.end(a),
      for: [a, b].map((end) =>
        readFact(
          end,
          `${end.id} ${fixed ? 'is fixed at' : 'offers'} ${end.facts.advertisedModes?.join(', ')}`,
          'advertisedModes',
        ),
      ),
      remedy: 'let both negotiate all their modes',
      settledBy: 'let both ends negotiate and read again',
    },
  ];
};

function nothingCommon(a: EndView, b: EndView): boolean {
  if (a.advertised === undefined || b.advertised === undefined) return false;
  const unseen = [a.advertised, b.advertised].some(
    (list) => list.silentMbps.length > 0 || listMayHide(list, 0),
  );
  return !unseen && commonModes(a.advertised.modes, b.advertised.modes).length === 0;
}

/** No link, for a reason that the ports do not know. */
export const down: LinkRule = (view) => {
  const { up, ends } = view;
  if (up !== false || ends.some((end) => end.mayBeDown || end.facts.adminUp === false)) return [];
  const medium = mediumOf(view) === 'fibre' ? 'the fibre, a module' : 'a cable, a plug';
  return [
    {
      kind: 'down',
      proof: 'likely',
      what: `${medium} or the power of the far end: there is no link, which is no matter of speed`,
      element: elementIds.run,
      for: noLink(ends),
      remedy: 'look at the lamps of both ports, then reseat the plugs',
      settledBy: `join ${bothEnds(view)} by one known-good cable and look whether the link comes up`,
    } satisfies CauseDraft,
  ];
};

function noLink(ends: readonly EndView[]) {
  return ends
    .filter(({ facts }) => facts.operUp === false)
    .map((end) => {
      const { linkText } = end.facts;
      const words = linkText === undefined ? '' : `: ${linkText}`;
      return readFact(end, `${end.id} has no link${words}`, 'operUp');
    });
}
