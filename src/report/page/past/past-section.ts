import { timeWords } from '../../summary-line.ts';
import { portFragment } from '../fragments.ts';
import { type Markup, markup } from '../markup.ts';
import { nightsChart } from './nights-chart.ts';
import type { NodeAway, PagePast, PortPast } from './page-past.ts';
import { stepChart } from './step-chart.ts';
import { type TimeAxis, timeAxis } from './time-axis.ts';

/** Ports that are drawn on one page; those that moved last, since a page has room for no more. */
export const portsDrawnMax = 40;
/** Stretches without an answer that are listed, the latest first. */
const awayListedMax = 40;

/**
 * The history: findings per night, what ports did over time, and who gave no answer when. Of a part
 * of a site without the findings per night, which are of all of it.
 */
export function pastSection(past: PagePast, isPart = false): Markup {
  const { nights, ports, away, leftOut } = past;
  const head = markup`<h2 id="past-head">History</h2>`;
  if (nights.length === 0)
    return markup`<section id="past" aria-labelledby="past-head">${head}<p>no audit is kept so far</p></section>`;
  const axis = timeAxis(nights);
  const drawn = ports
    .toSorted((a, b) => (a.lastAt < b.lastAt ? 1 : a.lastAt > b.lastAt ? -1 : 0))
    .slice(0, portsDrawnMax);
  const more = [
    ...(drawn.length < ports.length
      ? [
          `of ${ports.length} ports that moved the ${drawn.length} that moved last are drawn; hopgauge history NODE:PORT tells of any, hopgauge page draws all, node by node`,
        ]
      : []),
    ...leftOut,
  ];
  return markup`<section id="past" class="past" aria-labelledby="past-head">${head}${patterns}
<p>${nights.length} ${nights.length === 1 ? 'audit' : 'audits'}, ${timeWords(axis.from)} to ${timeWords(axis.to)}. A hatched gap with a question mark was not read, and says nothing.</p>
${isPart ? undefined : nightsChart(nights, axis)}
${awayList(away)}
${drawn.map((port, at) => portMarkup(port, axis, at))}
${ports.length === 0 ? markup`<p>no port changed its speed, duplex, MTU or link, and none counted errors</p>` : undefined}
${more.length === 0 ? undefined : markup`<ul class="past-left">${more.map((each) => markup`<li>${each}</li>`)}</ul>`}
</section>`;
}

/** Patterns that all charts of a page share. */
const patterns = markup`<svg class="past-defs" aria-hidden="true" focusable="false"><defs>
<pattern id="past-hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="past-hatch-line" d="M0 0V6"/></pattern>
<pattern id="past-dots" width="4" height="4" patternUnits="userSpaceOnUse"><circle class="past-dot" cx="2" cy="2" r="1.1"/></pattern>
</defs></svg>`;

function portMarkup({ node, port, courses }: PortPast, axis: TimeAxis, at: number): Markup {
  const of = `${node}:${port}`;
  const charts = courses.map((course, each) =>
    stepChart(course, axis, { id: `past-${at}-${each}`, of }),
  );
  return markup`<div class="past-port" id="past-${portFragment(node, port)}"><h3>${of}</h3>${charts}</div>`;
}

function awayList(away: readonly NodeAway[]): Markup | undefined {
  if (away.length === 0) return undefined;
  const shown = away.toReversed().slice(0, awayListedMax);
  const left = away.length - shown.length;
  return markup`<h3>Not read</h3><ul class="past-away">${shown.map((each) => markup`<li>${awayWords(each)}</li>`)}${left > 0 ? markup`<li>and ${left} earlier</li>` : undefined}</ul>`;
}

function awayWords({ node, seenAt, endedAt }: NodeAway): string {
  const last = `${node}: last read ${timeWords(seenAt)}`;
  return endedAt === undefined ? `${last}, not since` : `${last}, read again ${timeWords(endedAt)}`;
}
