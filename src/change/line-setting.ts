import type { OfferedModes } from '../ethernet/link-mode.ts';
import type { PortSurvey } from '../facts/survey.ts';
import { ethernetSpeedsMbps } from '../intent/speed.ts';
import { offeredModes } from '../site/port-modes.ts';
import { type LineMedium, mediumOfPort } from './line-medium.ts';
import type { LineSetting } from './settle-link.ts';
import type { AskedLine, ChangeStep } from './types.ts';

/** A port that was read, with where its lists of modes come from. */
export interface PortOf {
  readonly port: PortSurvey;
  readonly sourceOf: (fact: string) => string;
}

/** How an end is set; of one that was not read, as its partner hears it. */
export function lineOfEnd(
  end: PortOf | undefined,
  steps: readonly ChangeStep[],
  partner: PortOf | undefined,
  run: LineMedium | undefined,
): LineSetting {
  if (end === undefined) return heardBy(partner);
  const { autoNegotiation, speedMbps, duplex } = end.port.facts;
  const asked: AskedLine = Object.assign({}, ...steps.map(({ line }) => line));
  const negotiates = asked.negotiates ?? autoNegotiation;
  const isForced = negotiates === false;
  const onlyMbps = asked.speedMbps ?? (isForced ? speedMbps : undefined);
  const onlyDuplex = asked.duplex ?? (isForced ? duplex : undefined);
  const medium = mediumOfPort(end.port) ?? run;
  return {
    ...(negotiates === undefined ? {} : { negotiates }),
    ...(onlyMbps === undefined ? {} : { onlyMbps }),
    ...(onlyDuplex === 'full' || onlyDuplex === 'half' ? { onlyDuplex } : {}),
    ...(medium === undefined ? {} : { medium }),
    ...speedsOf(end, asked.speedMbps === undefined && !isForced),
  };
}

/** What an end can do, or where nothing sets it, what it offers; what it runs at it can do. */
function speedsOf(
  { port, sourceOf }: PortOf,
  offers: boolean,
): Pick<LineSetting, 'speedsMbps' | 'silentMbps' | 'oneDuplexAt'> {
  const names = offers
    ? (['advertisedModes', 'supportedModes'] as const)
    : (['supportedModes', 'advertisedModes'] as const);
  const [list] = names.flatMap(
    (name) => offeredModes(port.facts[name] ?? [], sourceOf(name)) ?? [],
  );
  const { speedMbps } = port.facts;
  const now = speedMbps === undefined ? [] : [speedMbps];
  // Without a list nothing is known but what it runs at.
  if (list === undefined) return { speedsMbps: now, silentMbps: ethernetSpeedsMbps };
  return {
    speedsMbps: [...new Set([...list.modes.map((mode) => mode.speedMbps), ...now])],
    silentMbps: list.silentMbps,
    oneDuplexAt: oneDuplexAt(list),
  };
}

/** The one duplex of each speed of a list; what could not be read of it may tell another. */
export function oneDuplexAt({
  modes,
  aside,
  silentMbps,
}: OfferedModes): ReadonlyMap<number, 'full' | 'half'> {
  if (aside.length > 0) return new Map();
  const single = modes.filter(
    ({ speedMbps, duplex }) =>
      !silentMbps.includes(speedMbps) &&
      !modes.some((other) => other.speedMbps === speedMbps && other.duplex !== duplex),
  );
  return new Map(single.map(({ speedMbps, duplex }) => [speedMbps, duplex]));
}

/** An end that nobody reads, by what its partner hears of it: that it negotiates, and what. */
function heardBy(partner: PortOf | undefined): LineSetting {
  const { partnerModes = [], partnerAutoNegotiation } = partner?.port.facts ?? {};
  const list = partner && offeredModes(partnerModes, partner.sourceOf('partnerModes'));
  const negotiates = partnerAutoNegotiation ?? (list === undefined ? undefined : true);
  return {
    ...(negotiates === undefined ? {} : { negotiates }),
    ...(list === undefined
      ? {}
      : {
          speedsMbps: list.modes.map((mode) => mode.speedMbps),
          silentMbps: list.silentMbps,
          oneDuplexAt: oneDuplexAt(list),
        }),
  };
}
