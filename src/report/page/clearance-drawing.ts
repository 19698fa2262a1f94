import type { Hop, SitePath } from '../../site/types.ts';
import { speedWords } from '../fact-words.ts';
import { clearanceWords, type Stand, standOf } from '../opening.ts';
import { type ClearanceScale, clearanceScale } from './clearance-scale.ts';
import { type Markup, markup } from './markup.ts';

/** Width of one hop and of the way between two nodes, in user units of the drawing. */
const hopWidth = 104;
const wayWidth = 44;
const margin = 16;
/** Above the openings: the words of the load. */
const headRoom = 34;
/** Below them: port, clearance and speed, a line each, and the node. */
const footRoom = 78;

interface Placed {
  readonly hop: Hop;
  readonly stand: Stand;
  /** Left edge. */
  readonly x: number;
}

/**
 * A path as a clearance profile: its hops from left to right, each an opening as high as the packet
 * that it passes, and the declared packet as the load that must go through all of them. What strikes
 * is filled in, crossed and named; what is not read has no lintel and a question mark; what is not
 * settled has one lintel at what passes for certain and one at what passes at most. Every number is
 * in the words as well, and in `data-` attributes as in the JSON form.
 */
export function clearanceDrawing(path: SitePath, id: string): Markup {
  const declared = path.subject.facts['declaredMtuBytes'];
  const demandBytes = typeof declared === 'number' ? declared : undefined;
  const scale = clearanceScale([
    ...(demandBytes === undefined ? [] : [demandBytes]),
    ...path.hops.flatMap(({ clearance: { atLeastBytes, atMostBytes } }) =>
      [atLeastBytes, atMostBytes].flatMap((bytes) => bytes ?? []),
    ),
  ]);
  const placed = placeHops(path.hops, demandBytes);
  const width = (placed.at(-1)?.x ?? margin) + hopWidth + margin;
  const floor = headRoom + scale.heightMax;
  const frame: Frame = { scale, floor, width };
  return markup`<svg class="clearance" role="img" viewBox="0 0 ${width} ${floor + footRoom}" width="${width}" height="${floor + footRoom}" aria-labelledby="${id}-title ${id}-desc">
<title id="${id}-title">${path.declared.name}: ${path.from} to ${path.to}</title>
<desc id="${id}-desc">${describe(placed, demandBytes)}</desc>
<line class="floor" x1="0" y1="${floor}" x2="${width}" y2="${floor}"/>
${demandBytes === undefined ? undefined : loadMarkup(demandBytes, frame)}
${placed.map((each) => hopMarkup(each, demandBytes, frame))}
</svg>`;
}

interface Frame {
  readonly scale: ClearanceScale;
  /** On which openings and load stand, from the top. */
  readonly floor: number;
  readonly width: number;
}

function placeHops(hops: readonly Hop[], demandBytes: number | undefined): Placed[] {
  let x = margin;
  return hops.map((hop, at) => {
    const before = hops[at - 1];
    if (before !== undefined) x += hopWidth + (before.port.node === hop.port.node ? 0 : wayWidth);
    return { hop, stand: standOf(hop.clearance, demandBytes), x };
  });
}

/** The load runs through the whole drawing, so that what is lower than it is seen to be hit. */
function loadMarkup(bytes: number, { scale, floor, width }: Frame): Markup {
  const height = scale.heightOf(bytes);
  return markup`<g class="load" data-declared="${bytes}">
<rect x="0" y="${floor - height}" width="${width}" height="${height}"/>
<text x="4" y="${floor - height - 6}">declared packet ${bytes} bytes</text>
</g>`;
}

function hopMarkup(placed: Placed, demandBytes: number | undefined, frame: Frame): Markup {
  const { hop, stand, x } = placed;
  const { atLeastBytes, atMostBytes, onWord } = hop.clearance;
  const middle = x + hopWidth / 2;
  const { floor } = frame;
  return markup`<g class="hop ${stand.replace(' ', '-')}${onWord ? ' on-word' : ''}" data-port="${hop.port.id}" data-at-least="${atLeastBytes ?? ''}" data-at-most="${atMostBytes ?? ''}">
${openingMarkup(placed, frame)}
${stand === 'too small' ? strikeMarkup(placed, demandBytes ?? 0, frame) : undefined}
<text class="port" x="${middle}" y="${floor + 16}">${hop.port.id}</text>
<text class="bytes" x="${middle}" y="${floor + 32}">${standWords(placed)}</text>
<text class="speed" x="${middle}" y="${floor + 48}">${rateOf(hop)}</text>
</g>`;
}

/** Two jambs and a lintel; a second, broken lintel where the clearance is a range. */
function openingMarkup({ hop, stand, x }: Placed, { scale, floor }: Frame): Markup {
  const { atLeastBytes, atMostBytes } = hop.clearance;
  const [left, right] = [x + 8, x + hopWidth - 8];
  const tall = scale.heightMax;
  const jambs = markup`<path class="jamb" d="M${left} ${floor}V${floor - tall}M${right} ${floor}V${floor - tall}"/>`;
  if (stand === 'not known')
    return markup`${jambs}<text class="unread" x="${(left + right) / 2}" y="${floor - tall / 2}">?</text>`;
  const lintel = (bytes: number, name: string) =>
    markup`<path class="${name}" d="M${left} ${floor - scale.heightOf(bytes)}H${right}"/>`;
  const known = atMostBytes ?? atLeastBytes ?? 0;
  const wall = markup`<rect class="wall" x="${left}" y="${floor - tall}" width="${right - left}" height="${tall - scale.heightOf(known)}"/>`;
  const range = atLeastBytes !== undefined && atLeastBytes !== known;
  return markup`${wall}${jambs}${lintel(known, 'lintel')}${range ? lintel(atLeastBytes, 'certain') : undefined}`;
}

/** What of the load does not go through: filled, crossed and named. */
function strikeMarkup({ hop, x }: Placed, demandBytes: number, { scale, floor }: Frame): Markup {
  const [left, right] = [x + 8, x + hopWidth - 8];
  const top = floor - scale.heightOf(demandBytes);
  const bottom = floor - scale.heightOf(hop.clearance.atMostBytes ?? 0);
  return markup`<g class="strike">
<rect x="${left}" y="${top}" width="${right - left}" height="${bottom - top}"/>
<path d="M${left} ${top}L${right} ${bottom}M${left} ${bottom}L${right} ${top}"/>
<text x="${(left + right) / 2}" y="${top - 4}">strikes here</text>
</g>`;
}

function standWords({ hop, stand }: Placed): string {
  const marks = stand === 'too small' ? ', too small' : stand === 'not known' ? ', not read' : '';
  return `${clearanceWords(hop.clearance)} bytes${marks}${hop.narrowest ? ', narrowest' : ''}`;
}

function rateOf({ speedMbps, duplex, slowest }: Hop): string {
  const rate = speedMbps === undefined ? 'speed not read' : speedWords(speedMbps);
  return [rate, ...(duplex === undefined ? [] : [duplex]), ...(slowest ? ['slowest'] : [])].join(
    ' ',
  );
}

/** The whole drawing in words, for who does not see it. */
function describe(placed: readonly Placed[], demandBytes: number | undefined): string {
  const load =
    demandBytes === undefined ? 'no packet is declared' : `declared packet ${demandBytes} bytes`;
  const hops = placed.map((each) => `${each.hop.port.id} ${standWords(each)}, ${rateOf(each.hop)}`);
  return [load, ...hops].join('; ');
}
