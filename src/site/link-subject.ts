import type { Gap } from '../facts/gap.ts';
import { gapOf as gapOn, type Subject } from '../facts/subject.ts';
import { labelsFrom } from './labels.ts';
import { type AggregateView, putAggregate } from './link-aggregate.ts';
import { putAgreement } from './link-agreement.ts';
import { putLinkPhysics } from './link-physics.ts';
import { type Draft, gapOf, newDraft, nothingShared, ownProvenance, put } from './provenance.ts';
import type { LinkRef, SiteIndex } from './site-index.ts';
import type { SiteLink, SitePort } from './types.ts';

type Ends = readonly [SitePort, SitePort];

/** A link with both its ends side by side. */
export function siteLink(
  index: SiteIndex,
  link: LinkRef,
  { ends, aggregate }: { readonly ends: Ends; readonly aggregate: AggregateView },
): SiteLink {
  const { declared } = link;
  const draft = newDraft();
  put(draft, 'id', declared.id);
  put(draft, 'ends', [ends[0].id, ends[1].id]);
  put(draft, 'labels', labelsFrom(declared.run, 0));
  put(draft, 'lag', declared.lag);
  put(draft, 'declaredSpeedMbps', declared.speedMbps);
  const onWord = link.ends.some((end) => end.node.onWord);
  const judged = onWord ? false : bothJudged(ends);
  if (typeof judged === 'boolean') put(draft, 'judged', judged);
  else put(draft, 'judged', undefined, judged);
  if (!onWord) {
    compare(draft, ends, { fact: 'speedMbps', list: 'speedsMbps', equal: 'speedsEqual' });
    compare(draft, ends, { fact: 'duplex', list: 'duplexes', equal: 'duplexesEqual' });
  }
  putLinkPhysics(draft, link, { ends, unread: onWord ? undefined : missing(ends, 'speedMbps') });
  putAgreement(draft, index, link);
  const moved = ends.map(({ subject }) => subject.facts['movedLink']);
  put(draft, 'movedLink', moved[0] ?? moved[1]);
  putAggregate(draft, link, aggregate);
  const subject: Subject = {
    kind: 'link',
    id: declared.id,
    facts: draft.facts,
    own: ownProvenance(draft),
    shared: nothingShared,
    place: declared.place,
  };
  return { declared, ends, subject };
}

/** One end that is known to be down or virtual settles it, whatever the other is. */
function bothJudged(ends: Ends): boolean | Gap {
  const facts = ends.map((end) => end.subject.facts);
  if (facts.some((each) => each['operUp'] === false || each['virtual'] === true)) return false;
  return missing(ends, 'operUp') ?? missing(ends, 'virtual') ?? true;
}

function compare(
  draft: Draft,
  ends: Ends,
  names: { readonly fact: string; readonly list: string; readonly equal: string },
): void {
  const gap = missing(ends, names.fact);
  const [a, b] = ends.map((end) => end.subject.facts[names.fact]);
  put(draft, names.list, gap ? undefined : ([a, b] as string[]), gap);
  put(draft, names.equal, gap ? undefined : a === b, gap);
}

/** Why a fact of the first end that lacks it is absent; undefined when both have it. */
function missing(ends: Ends, fact: string): Gap | undefined {
  for (const { id, subject } of ends) {
    if (subject.facts[fact] !== undefined) continue;
    const gap = gapOn(subject, fact) ?? gapOf('unasked', `${fact} was not read`);
    // As the finding of the port itself is told, so that both are one to the reader.
    const cause = gap.cause ?? `unknown port.${fact} of ${id}`;
    return { ...gap, words: `${id}: ${gap.words}`, cause };
  }
  return undefined;
}
