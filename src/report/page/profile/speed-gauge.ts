import { type Markup, markup } from '../markup.ts';
import { measures } from './clearance-measures.ts';
import type { Cell } from './clearance-plan.ts';
import { hatch, short } from './hatch.ts';
import { deadWords } from './hop-lines.ts';

/** The slowest Ethernet, in Mb/s: it stands at the foot of the gauge. */
const slowestMbps = 10;

/**
 * Height of a speed in a gauge, by the logarithm: from a fifth at 10 Mb/s to all of it at
 * `fastestMbps`.
 */
export function gaugeHeight(mbps: number, fastestMbps: number): number {
  const full = measures.gauge - 4;
  if (fastestMbps <= slowestMbps) return full;
  const share =
    Math.log(Math.max(mbps, slowestMbps) / slowestMbps) / Math.log(fastestMbps / slowestMbps);
  return short(full * (0.2 + 0.8 * Math.min(1, share)));
}

/**
 * Speed against what the link is meant to run at: two columns in full duplex, one of them empty in
 * half duplex, a line where they should end, and hatching up to it.
 */
export function gaugeMarkup(
  { view, x }: Cell,
  top: number,
  fastestMbps: number | undefined,
): Markup | undefined {
  const { hop, ratedMbps } = view;
  if (hop.layer) return undefined;
  const foot = top + measures.gauge;
  const [left, right] = [x + 22, x + measures.hop - 22];
  const ground = markup`<path class="ground" d="M${left - 6} ${foot}H${right + 6}"/>`;
  const rated =
    fastestMbps === undefined || ratedMbps === undefined
      ? undefined
      : foot - gaugeHeight(ratedMbps, fastestMbps);
  const mark =
    rated === undefined
      ? undefined
      : markup`<path class="rated" d="M${left - 8} ${short(rated)}H${right + 8}"/>`;
  if (hop.speedMbps === undefined || fastestMbps === undefined) {
    const sign = deadWords(view) === '' ? '?' : '\u00d7';
    return markup`${ground}${mark}<text class="nospeed" x="${(left + right) / 2}" y="${foot - 6}">${sign}</text>`;
  }
  const reached = foot - gaugeHeight(hop.speedMbps, fastestMbps);
  const below = rated !== undefined && rated < reached;
  const missing = below
    ? markup`<path class="missing" d="${hatch({ x: left, y: rated, width: right - left, height: short(reached - rated) }, 5)}"/>`
    : undefined;
  return markup`${ground}${missing}${bars(hop.duplex, { left, right, reached: short(reached), foot })}${mark}`;
}

function bars(
  duplex: string | undefined,
  { left, right, reached, foot }: { left: number; right: number; reached: number; foot: number },
): Markup {
  const half = (right - left) / 2 - 2;
  const bar = (x: number, width: number, name: string) =>
    markup`<rect class="${name}" x="${x}" y="${reached}" width="${width}" height="${short(foot - reached)}"/>`;
  if (duplex !== 'half' && duplex !== 'full') return bar(left, right - left, 'speed');
  return markup`${bar(left, half, 'speed')}${bar(right - half, half, duplex === 'full' ? 'speed' : 'speed-empty')}`;
}
