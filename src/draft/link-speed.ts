import type { LinkMode, OfferedModes } from '../ethernet/link-mode.ts';
import { commonModes } from '../ethernet/link-modes.ts';
import { ethernetSpeedsMbps } from '../intent/speed.ts';
import { isPhysical } from '../site/port-kind.ts';
import { offeredModes } from '../site/port-modes.ts';
import { endWords } from './ends.ts';
import type { End, FoundLink } from './types.ts';

/** The speed that a link is meant to run at, where it follows; and what does not. */
export interface SpeedFound {
  readonly speedMbps?: number;
  readonly questions: readonly string[];
}

/**
 * The speed to declare: the best that both ends can do in full duplex. What it runs at now is
 * written only where an end can do no better: a fault must not become the intent.
 */
export function linkSpeed({ ends }: FoundLink): SpeedFound {
  const [a, b] = ends;
  const running = runningMbps(ends);
  const best = bestMbps(a, b);
  const questions = complaints(ends, { running, best });
  if (best === undefined) {
    const open = running === undefined ? [] : [openQuestion(ends, running)];
    return { questions: [...questions, ...open] };
  }
  const speedMbps = Math.max(best, running ?? 0);
  return ethernetSpeedsMbps.includes(speedMbps) ? { speedMbps, questions } : { questions };
}

/** What both ends report; undefined where they do not agree or one does not say. */
function runningMbps([a, b]: FoundLink['ends']): number | undefined {
  const [x, y] = [liveMbps(a), liveMbps(b)];
  return x !== undefined && x === y ? x : undefined;
}

function liveMbps({ port: { facts } }: End): number | undefined {
  return facts.operUp === true && isPhysical(facts) ? facts.speedMbps : undefined;
}

function bestMbps(a: End, b: End): number | undefined {
  const [canA, canB] = [capable(a), capable(b)];
  if (canA !== undefined && canB !== undefined) return bestCommon(canA, canB);
  const [known, end] = canA === undefined ? [canB, b] : [canA, a];
  if (known === undefined) return undefined;
  const heard = listOf(end, 'partnerModes');
  const offered = heard === undefined ? undefined : bestCommon(known, heard);
  if (offered !== undefined) return offered;
  // An end that can do no more than it does now settles it, whatever the other could.
  const running = runningMbps([a, b]);
  const most = fullModes(known)[0]?.speedMbps;
  return running !== undefined && most !== undefined && most <= running ? running : undefined;
}

/** Without a mode in common the lists speak of different media, and nothing follows from them. */
function bestCommon(a: OfferedModes, b: OfferedModes): number | undefined {
  return commonModes(fullModes(a), fullModes(b))[0]?.speedMbps;
}

function fullModes({ modes }: OfferedModes): readonly LinkMode[] {
  return modes.filter(({ duplex }) => duplex === 'full');
}

function capable(end: End): OfferedModes | undefined {
  return listOf(end, 'supportedModes');
}

function listOf(
  { machine, port }: End,
  fact: 'supportedModes' | 'partnerModes',
): OfferedModes | undefined {
  const source = port.sources?.[fact] ?? machine.survey.portSources[fact] ?? '';
  const list = offeredModes(port.facts[fact] ?? [], source);
  return list === undefined || list.modes.length === 0 ? undefined : list;
}

function complaints(
  ends: FoundLink['ends'],
  { running, best }: { readonly running: number | undefined; readonly best: number | undefined },
): readonly string[] {
  const [a, b] = ends.map(liveMbps);
  const half = ends.filter(({ port }) => port.facts.duplex === 'half');
  return [
    ...(a !== undefined && b !== undefined && a !== b
      ? [
          `${endWords(ends[0])} runs at ${speedText(a)}, ${endWords(ends[1])} at ${speedText(b)}: is there a switch or converter between (unread: switch)?`,
        ]
      : []),
    ...(running !== undefined && best !== undefined && running < best
      ? [`runs at ${speedText(running)} now; both ends can do ${speedText(best)}`]
      : []),
    ...half.map((end) => `${endWords(end)} runs in half duplex now`),
    ...ends
      .filter(({ port }) => port.facts.operUp === false)
      .map((end) => `${endWords(end)} has no link now`),
  ];
}

function openQuestion(ends: FoundLink['ends'], running: number): string {
  const silent = ends.filter((end) => capable(end) === undefined).map(endWords);
  const who =
    silent.length > 0
      ? `what ${silent.join(' and ')} can do is not known`
      : 'what both ends can do has nothing in common';
  return `speed: ${speedText(running)}?  both ends run at it; ${who}`;
}

/** A speed as an intent writes it. */
export function speedText(mbps: number): string {
  return mbps < 1000 ? `${mbps}M` : `${mbps / 1000}G`;
}
