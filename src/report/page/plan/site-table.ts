import { speedWords } from '../../fact-words.ts';
import { clearanceWords } from '../../opening.ts';
import { type Markup, markup } from '../markup.ts';
import type { Leads } from './leads.ts';
import { numberOf } from './link-state.ts';
import { findingCount, stateWords } from './link-words.ts';
import type { Sheet } from './site-sheets.ts';
import { standingWords } from './standing.ts';
import type { SheetLink } from './whole-sheet.ts';

const columns = [
  'link',
  'state',
  'runs at',
  'should run at',
  'passes',
  'declared packet',
  'aggregate',
  'found',
];
const nothing = '\u2013';

/** The links of a drawing in words: everything that it shows, for who does not see it. */
export function siteTable({ links, title }: Sheet, leads: Leads): Markup | undefined {
  if (links.length === 0) return undefined;
  const heads = columns.map((column) => markup`<th scope="col">${column}`);
  return markup`<details class="site-words"><summary>The links of this drawing in words</summary>
<div class="scroll" role="group" tabindex="0" aria-label="links of ${title}"><table><thead><tr>${heads}<tbody>${links.map((link) => rowOf(link, leads))}</table></div></details>
`;
}

function rowOf(link: SheetLink, leads: Leads): Markup {
  const { id, reading, told, lag, ends } = link;
  const name =
    link.link === undefined ? markup`${id}` : markup`<a href="${leads.link(id, ends)}">${id}</a>`;
  const cells = [
    [...new Set([stateWords[reading.state], ...reading.marks])].join(': '),
    perEnd(link, (end) => {
      if (end.subject.facts['operUp'] === false) return 'no link';
      const speed = numberOf(end, 'speedMbps');
      const duplex = end.subject.facts['duplex'];
      return speed === undefined ? undefined : [speedWords(speed), duplex].join(' ').trim();
    }),
    reading.ratedMbps === undefined ? nothing : speedWords(reading.ratedMbps),
    perEnd(link, (end) => {
      const [atLeastBytes, atMostBytes] = [
        numberOf(end, 'passesAtLeastBytes'),
        numberOf(end, 'passesAtMostBytes'),
      ];
      if (atLeastBytes === undefined && atMostBytes === undefined) return undefined;
      return clearanceWords({
        ...(atLeastBytes === undefined ? {} : { atLeastBytes }),
        ...(atMostBytes === undefined ? {} : { atMostBytes }),
        onWord: false,
      });
    }),
    reading.wantedBytes === undefined ? nothing : `${reading.wantedBytes} bytes`,
    lag ?? nothing,
    told.count === 0 ? nothing : `${findingCount(told.count)}, ${standingWords[told.standing]}`,
  ];
  return markup`<tr><th scope="row">${name}${cells.map((cell) => markup`<td>${cell}`)}
`;
}

type End = NonNullable<SheetLink['link']>['ends'][number];

/** What both ends say, once where it is the same; `not known` for an end that does not. */
function perEnd({ link }: SheetLink, say: (end: End) => string | undefined): string {
  if (link === undefined) return nothing;
  const said = link.ends.map((end) => say(end) ?? 'not known');
  return [...new Set(said)].join(' / ');
}
