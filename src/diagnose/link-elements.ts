import { rateWords } from '../ethernet/run-brake.ts';
import type { RunReach } from '../ethernet/run-reach.ts';
import type { RunPiece } from '../intent/types.ts';
import { highestMbps } from '../site/port-modes.ts';
import type { Cause, Certainty } from './cause.ts';
import { elementIds } from './causes/cause-rule.ts';
import type { EndView } from './end-view.ts';
import { type LinkSide, type LinkView, mediumOf } from './link-view.ts';

/** One thing that the link is made of, in its order from the first end to the second. */
export interface LinkElement {
  readonly id: string;
  readonly kind: 'end' | 'bus' | 'module' | 'run' | 'piece';
  /** `node:port`, the piece as written, or the bus in its system's words. */
  readonly text: string;
  /** Of a piece: the label that one finds on it. */
  readonly label?: string;
  /** Highest speed in Mb/s that it can, for certain; absent: not known. */
  readonly canMbps?: number;
  /** Highest speed that an end says that it offers; absent: not known. */
  readonly offersMbps?: number;
  /** Highest speed that its partner hears it offer; absent: not known. */
  readonly heardMbps?: number;
  /** What it runs at; absent: not known, or no link. */
  readonly runsMbps?: number;
  readonly duplex?: 'full' | 'half';
  /** What else is to be said in its line; absent: nothing. */
  readonly note?: string;
  /** How surely the first cause that is a fault points at it; absent: it does not. */
  readonly limits?: Certainty;
}

type Bare = Omit<LinkElement, 'limits'>;

/** Everything from one end to the other, with what limits it marked. */
export function linkElements(view: LinkView, causes: readonly Cause[]): readonly LinkElement[] {
  const limiting = causes.find(({ fault }) => fault);
  const [first, second] = view.sides;
  const all = [
    ...endElements(view, first),
    ...runElements(view),
    ...endElements(view, second).toReversed(),
  ];
  return all.map((element) =>
    limiting !== undefined && element.id === limiting.element
      ? { ...element, limits: limiting.certainty }
      : element,
  );
}

/** The end, its bus and its module, from the node outwards. */
function endElements(view: LinkView, { end, far }: LinkSide): readonly Bare[] {
  const { busText, busMbps, moduleText, rxPowerDbm } = end.facts;
  return [
    ...(busText === undefined && busMbps === undefined
      ? []
      : [
          {
            id: elementIds.bus(end),
            kind: 'bus' as const,
            text: busText ?? 'bus',
            ...(busMbps === undefined ? {} : { canMbps: Math.floor(busMbps) }),
          },
        ]),
    endElement(view, end, far),
    ...(moduleText === undefined && rxPowerDbm === undefined
      ? []
      : [
          {
            id: elementIds.module(end),
            kind: 'module' as const,
            text: moduleText ?? 'module',
            ...(rxPowerDbm === undefined ? {} : { note: `receives ${rxPowerDbm} dBm` }),
          },
        ]),
  ];
}

function endElement(view: LinkView, end: EndView, far: EndView): Bare {
  const { speedMbps } = end.facts;
  const note = noteOf(end);
  return {
    id: elementIds.end(end),
    kind: 'end',
    text: end.id,
    ...optional('canMbps', highestMbps(end.capable)),
    ...optional('offersMbps', highestMbps(end.advertised)),
    ...optional('heardMbps', highestMbps(far.partner)),
    ...optional('runsMbps', view.up === false ? undefined : speedMbps),
    ...(end.duplex === undefined || view.up === false ? {} : { duplex: end.duplex }),
    ...(note === undefined ? {} : { note }),
  };
}

function optional<K extends string>(name: K, value: number | undefined): { [P in K]?: number } {
  return value === undefined ? {} : ({ [name]: value } as { [P in K]?: number });
}

function noteOf({ facts, port, declaredNode, virtual }: EndView): string | undefined {
  if (declaredNode?.unread !== undefined) return `not read: ${declaredNode.unread}`;
  if (port.survey === undefined) return 'not read';
  if (virtual === true) return 'virtual';
  if (facts.adminUp === false) return 'switched off';
  return facts.operUp === false ? 'no link' : undefined;
}

function runElements(view: LinkView): readonly Bare[] {
  const { run, link } = view;
  if (run === undefined) {
    return [{ id: elementIds.run, kind: 'run', text: 'run, not declared' }];
  }
  return [runElement(run), ...link.declared.run.map(pieceElement)];
}

function runElement(run: RunReach): Bare {
  return {
    id: elementIds.run,
    kind: 'run',
    text: runText(run),
    ...optional('canMbps', run.ratedMbps),
    ...(run.conditionalMbps === undefined
      ? {}
      : { note: `perhaps ${rateWords(run.conditionalMbps)}` }),
  };
}

function runText({ lengthMetres, lengthIsWhole, connectors }: RunReach): string {
  const joints = connectors === 0 ? '' : `, ${connectors} connector${connectors === 1 ? '' : 's'}`;
  const length = lengthIsWhole ? `${lengthMetres} m` : `${lengthMetres} m or more`;
  return `run of ${length}${joints}`;
}

function pieceElement({ text, label }: RunPiece, index: number): Bare {
  return {
    id: elementIds.piece(index),
    kind: 'piece',
    text,
    ...(label === undefined ? {} : { label }),
  };
}

/** Light is in the run, by its pieces, its modules or what they measure. */
export function isOptical(view: LinkView): boolean {
  return (
    mediumOf(view) === 'fibre' ||
    view.ends.some(({ facts }) => facts.rxPowerDbm !== undefined || facts.txPowerDbm !== undefined)
  );
}
