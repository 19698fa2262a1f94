import type { RunPiece } from '../../../intent/types.ts';
import { speedWords } from '../../fact-words.ts';
import { useWords } from '../../hop-words.ts';
import { clean, noBreak } from '../../layout.ts';
import { clearanceWords, gapSign } from '../../opening.ts';
import type { HopView } from './hop-view.ts';

/** The packet that a hop passes; in parentheses where only the owner says so. */
export function packetLine({ hop: { clearance } }: HopView): string {
  const words = clearanceWords(clearance);
  return clearance.onWord ? `(${words})` : words;
}

/** How a hop stands to the declared packet and whether it is in use, in short lines. */
export function stateLines(view: HopView): string[] {
  const { hop, stand } = view;
  const said = {
    passes: '',
    'no demand': '',
    'too small': 'too small',
    'not settled': 'not settled',
    'not known': `not known: ${gapSign(hop.clearance).replaceAll(' ', noBreak)}`,
  }[stand];
  const unread = stand === 'not known' && hop.clearance.gap === undefined;
  return [
    unread ? 'not known' : said,
    hop.clearance.onWord ? 'on your word' : '',
    hop.layer ? 'layer above' : '',
    useWords(hop),
  ].filter((line) => line !== '');
}

/** What keeps a hop without any link, or nothing. */
export function deadWords({ hop }: HopView): string {
  const { adminUp, operUp } = hop.port.subject.facts;
  if (adminUp === false) return 'switched off';
  return operUp === false ? 'link down' : '';
}

/** Speed, what it should be, and duplex of a hop, in short lines; a layer has none of its own. */
export function rateLines(view: HopView): string[] {
  const { hop, ratedMbps } = view;
  if (hop.layer) return [];
  const dead = deadWords(view);
  const meant =
    ratedMbps === undefined || hop.speedMbps === ratedMbps ? '' : `of ${speedWords(ratedMbps)}`;
  if (dead !== '') return [dead, meant].filter(Boolean);
  const speed = hop.speedMbps === undefined ? 'speed not known' : speedWords(hop.speedMbps);
  return [speed, meant, duplexWords(view), view.slowest ? 'slowest' : ''].filter(Boolean);
}

/** Whether a hop runs in another duplex than declared. */
export function isWrongDuplex({ hop }: HopView): boolean {
  const { declaredDuplex } = hop.port.subject.facts;
  return hop.duplex !== undefined && hop.duplex !== (declaredDuplex ?? hop.duplex);
}

function duplexWords(view: HopView): string {
  const { duplex } = view.hop;
  if (duplex !== 'half' && duplex !== 'full') return '';
  const { declaredDuplex } = view.hop.port.subject.facts;
  return `${duplex} duplex${isWrongDuplex(view) ? `, not ${String(declaredDuplex)}` : ''}`;
}

/** Everything that is drawn of a hop, as words in one line. */
export function hopSentence(view: HopView): string {
  const { hop } = view;
  const bytes = hop.clearance.atMostBytes === undefined && hop.clearance.atLeastBytes === undefined;
  const reason = clean(hop.clearance.gap?.words ?? '');
  return [
    `${clean(hop.port.id)}${bytes ? '' : ` ${packetLine(view)} bytes`}`,
    ...stateLines(view),
    ...(view.stand === 'not known' && reason !== '' ? [reason] : []),
    ...(view.narrowest ? ['narrowest'] : []),
    ...rateLines(view),
  ].join(', ');
}

const cables = new Set<RunPiece['kind']>(['cord', 'wall', 'fibre', 'direct-attach']);

/** Media, length, modules and labels of a run, a line each; of a link without a run, that. */
export function runLines(run: readonly RunPiece[]): string[] {
  if (run.length === 0) return ['run not declared'];
  const media = run.filter(({ kind }) => cables.has(kind));
  return [
    listed(media.map(({ category, kind }) => category ?? kind)),
    lengthWords(run) ?? (media.length === 0 ? '' : 'length not declared'),
    listed(run.flatMap(({ moduleType }) => moduleType ?? [])),
    listed(run.flatMap(({ label }) => label ?? [])),
  ].filter((line) => line !== '');
}

function listed(words: readonly string[]): string {
  return [...new Set(words)].map(clean).join(', ');
}

/** All cables of a run together: `25 m`; `25 m or more` where some have no length; none has: nothing. */
export function lengthWords(run: readonly RunPiece[]): string | undefined {
  const media = run.filter(({ kind }) => cables.has(kind));
  const known = media.flatMap(({ lengthMetres }) => lengthMetres ?? []);
  if (known.length === 0) return undefined;
  const metres = Math.round(known.reduce((sum, each) => sum + each, 0) * 100) / 100;
  return known.length === media.length ? `${metres} m` : `${metres} m or more`;
}
