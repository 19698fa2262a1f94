import type { KeptAudit } from '../../../drift/timeline.ts';
import { timeWords } from '../../summary-line.ts';
import { type Markup, markup } from '../markup.ts';
import { axisMarkup, chartWidth, fieldLeft, rounded, type TimeAxis } from './time-axis.ts';

const height = 96;
const top = 16;
const floor = top + height;
const footRoom = 30;
const barWidthMax = 14;
/** Bars touch from so many nights on; the table has each. */
const barWidthMin = 1.2;

/** What is drawn of a night, from the floor up. Each has a pattern of its own. */
const verdicts = ['broken', 'undetermined', 'waived'] as const;

/** A night is kept by verdict alone, so that its broken rules have the notices among them. */
const keyWords = {
  broken: 'broken, or worth knowing',
  undetermined: 'undetermined',
  waived: 'waived',
} as const satisfies Record<(typeof verdicts)[number], string>;

/**
 * Findings of each night, one bar for each, by verdict: broken filled, undetermined dotted, waived
 * empty. A night that did not read all nodes has a question mark below it, since what it did not
 * see may be broken.
 */
export function nightsChart(nights: readonly KeptAudit[], axis: TimeAxis): Markup {
  const most = Math.max(1, ...nights.map(countOf));
  const room =
    nights.length < 2
      ? barWidthMax
      : (axis.xOf(axis.to) - axis.xOf(axis.from)) / (nights.length - 1);
  const width = rounded(Math.min(barWidthMax, Math.max(barWidthMin, room * 0.8)));
  const bar: Bar = { axis, width, per: height / most };
  return markup`<figure class="past-chart nights"><figcaption>Findings of each night</figcaption>
<svg class="nights" role="img" viewBox="0 0 ${chartWidth} ${floor + footRoom}" width="${chartWidth}" height="${floor + footRoom}" aria-labelledby="past-nights-title past-nights-desc">
<title id="past-nights-title">Findings of each night by verdict</title>
<desc id="past-nights-desc">${describe(nights)}</desc>
<path class="level" d="M${fieldLeft} ${top}H${axis.xOf(axis.to)}"/><text class="value" x="${fieldLeft - 6 - width / 2}" y="${top + 4}">${most}</text>
${nights.map((night) => nightMarkup(night, bar))}
${axisMarkup(axis, floor + 12)}
</svg>
<ul class="past-key">${verdicts.map((verdict) => markup`<li>${swatch(verdict)} ${keyWords[verdict]}</li>`)}<li><b>?</b> not all nodes were read</li></ul>
${nightsTable(nights)}</figure>`;
}

interface Bar {
  readonly axis: TimeAxis;
  readonly width: number;
  /** Height of one finding. */
  readonly per: number;
}

function countOf({ broken, undetermined, waived }: KeptAudit): number {
  return broken + undetermined + waived;
}

function nightMarkup(night: KeptAudit, { axis, width, per }: Bar): Markup {
  const left = rounded(axis.xOf(night.startedAt) - width / 2);
  let y = floor;
  const parts = verdicts.map((verdict) => {
    const tall = rounded(night[verdict] * per);
    y = rounded(y - tall);
    if (tall === 0) return undefined;
    return markup`<rect class="${verdict}" x="${left}" y="${y}" width="${width}" height="${tall}"/>`;
  });
  const sign = night.complete
    ? undefined
    : markup`<text class="partly" x="${axis.xOf(night.startedAt)}" y="${floor + 11}">?</text>`;
  return markup`<g data-at="${night.startedAt}" data-met="${night.met}" data-broken="${night.broken}" data-undetermined="${night.undetermined}" data-waived="${night.waived}">${parts}${sign}</g>`;
}

function swatch(verdict: string): Markup {
  return markup`<svg class="nights swatch" width="14" height="14" viewBox="0 0 14 14" aria-hidden="true"><rect class="${verdict}" x="1" y="1" width="12" height="12"/></svg>`;
}

function describe(nights: readonly KeptAudit[]): string {
  const [first, last] = [nights[0], nights.at(-1)];
  if (first === undefined || last === undefined) return 'no night';
  const words = (night: KeptAudit) =>
    `${timeWords(night.startedAt)} ${night.broken} ${keyWords.broken}, ${night.undetermined} undetermined, ${night.waived} waived`;
  const most = nights.reduce((a, b) => (countOf(b) > countOf(a) ? b : a), first);
  return `${nights.length} nights; first: ${words(first)}; most: ${words(most)}; last: ${words(last)}; the table below has all`;
}

function nightsTable(nights: readonly KeptAudit[]): Markup {
  const heads = ['audit', 'met', ...Object.values(keyWords), 'nodes read', 'told'];
  const rows = nights
    .toReversed()
    .map(
      (night) =>
        markup`<tr><td>${timeWords(night.startedAt)}</td><td>${night.met}</td><td>${night.broken}</td><td>${night.undetermined}</td><td>${night.waived}</td><td>${readWords(night)}</td><td>${night.told}</td></tr>`,
    );
  return markup`<details><summary>as a table</summary><table><caption>Findings of each night, the latest first</caption><thead><tr>${heads.map((head) => markup`<th scope="col">${head}</th>`)}</tr></thead><tbody>${rows}</tbody></table></details>`;
}

function readWords({ nodesRead, nodesAsked, complete }: KeptAudit): string {
  const nodes = nodesRead === nodesAsked ? `${nodesRead}` : `${nodesRead} of ${nodesAsked}`;
  return complete ? nodes : `${nodes}, not complete`;
}
