import type { Evidence, Finding } from '../../judge/types.ts';
import type { CauseGroup } from '../cause-groups.ts';
import { factWords, gapWords, placeWords, valueWords } from '../fact-words.ts';
import { gist } from '../finding-gist.ts';
import { titleWords } from '../finding-lines.ts';
import { seenWords } from '../seen-words.ts';
import { timeWords } from '../summary-line.ts';
import { unseenThing } from '../unseen-lines.ts';
import { type Fill, type Markup, markup } from './markup.ts';
import type { PageView } from './page-view.ts';
import { findingReference, nodesOf, subjectReference } from './references.ts';

/** Others of the same cause that are named; all stand in the table. */
const othersMax = 5;

/** A finding opened: what was seen, its evidence, what is declared, what to do. */
export function findingDetails(finding: Finding, group: CauseGroup, view: PageView): Markup {
  const others = [group.lead, ...group.others].filter((each) => each !== finding);
  const title = titleWords(finding);
  const rows: readonly (readonly [string, Fill])[] = [
    ['what', title === gist(title) ? undefined : title],
    ['on', subjectReference(finding, view)],
    ...outcome(finding, view),
    ['declared', finding.declaredAt && markup`<code>${placeWords(finding.declaredAt)}</code>`],
    ['waived', waiverWords(finding)],
    ['since', view.lifeOf(finding)?.words],
    ['history', view.pastOf(finding)],
    ['rule', `${finding.rule} of policy ${finding.policy}, after ${finding.source}`],
    ['also', others.length === 0 ? undefined : otherList(others)],
    ['finding', markup`<code>${finding.id}</code>`],
  ];
  const shown = rows.flatMap(([name, said]) =>
    said === undefined ? [] : [markup`<dt>${name}</dt><dd>${said}</dd>`],
  );
  return markup`<dl class="said">${shown}</dl>${evidenceTable(finding, view)}`;
}

/** What is broken is mended; what could not be seen is to be seen first. */
function outcome(finding: Finding, view: PageView): readonly (readonly [string, Fill])[] {
  if (finding.verdict !== 'undetermined') {
    return [
      ['seen', seenWords(finding, view.result.site, false)],
      ['do', finding.advice ?? 'bring the network and the intent together'],
    ];
  }
  const group = { cause: finding.cause, lead: finding, others: [] };
  const { why, remedy } = unseenThing(group, causeNode(finding, view));
  return [
    ['why', why],
    ['then', remedy],
  ];
}

function causeNode({ cause }: Finding, view: PageView) {
  return cause.startsWith('node ') ? view.nodes.get(cause.slice('node '.length)) : undefined;
}

function waiverWords({ waiver }: Finding): string | undefined {
  if (waiver === undefined) return undefined;
  return `until ${waiver.until} (${placeWords(waiver.place)}): ${waiver.because}`;
}

function otherList(others: readonly Finding[]): Markup {
  const links = others
    .slice(0, othersMax)
    .map((each) => markup`<li>${findingReference(each)}</li>`);
  const left = others.length - othersMax;
  return markup`<ul>${links}${left > 0 ? markup`<li>${left} more of the same cause</li>` : undefined}</ul>`;
}

/** Every fact that the verdict rests on: value with unit, where it came from, when it was read. */
function evidenceTable(finding: Finding, view: PageView): Markup | undefined {
  const { evidence } = finding;
  if (evidence.length === 0) return undefined;
  const when = readWords(finding, view);
  const rows = evidence.map(
    (each) =>
      markup`<tr><th scope="row">${factWords(each.fact)}</th><td>${saidValue(each)}</td><td>${each.source ?? ''}</td></tr>`,
  );
  return markup`<table class="evidence"><caption>Evidence, ${when}</caption>
<thead><tr><th scope="col">fact</th><th scope="col">value</th><th scope="col">source</th></tr></thead><tbody>${rows}</tbody></table>`;
}

function saidValue({ value, gap, unit }: Evidence): Markup {
  if (value !== undefined) return markup`${valueWords(value, unit)}`;
  if (gap === undefined) return markup`<i>not known</i>`;
  const own = gap.words === '' ? '' : ` (${gap.words})`;
  return markup`<i>not known: ${gapWords[gap.reason]}${own}</i>`;
}

function readWords(finding: Finding, view: PageView): string {
  const times = nodesOf(finding, view).flatMap((node) => view.readAt(node) ?? []);
  const [first] = times.toSorted();
  const at = first ?? view.result.survey?.endedAt;
  return at === undefined ? 'from the intent alone' : `read ${timeWords(at)}`;
}
