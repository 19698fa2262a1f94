import type { Rehearsal } from '../change/rehearsal.ts';
import type { Finding } from '../judge/types.ts';
import { type CauseGroup, causeGroups } from './cause-groups.ts';
import { alsoWords, titleWords } from './finding-lines.ts';
import { clean, padEnd, wrap } from './layout.ts';
import type { Page } from './page.ts';
import { labelColumns } from './remark-lines.ts';

/** Causes of one kind that are shown. */
const causesMax = 20;

function causeLines(label: string, { lead, others }: CauseGroup, page: Page): string[] {
  const also = alsoWords(others, false);
  return [
    ...wrap(padEnd(label, labelColumns), clean(titleWords(lead)), page.width),
    ...(also === '' ? [] : wrap(padEnd('  also', labelColumns), also, page.width)),
  ];
}

function moreCauses(label: string, findings: readonly Finding[]): string[] {
  const left = causeGroups(findings).length - causesMax;
  return left > 0 ? [`${padEnd(label, labelColumns)}${left} more`] : [];
}

/** Verdicts of the rules that are others once all steps are done, by their causes. */
export function outcomeLines(
  { fixed, broken, unknown, standing }: Rehearsal,
  page: Page,
): string[] {
  const list = (label: string, findings: readonly Finding[]) => [
    ...causeGroups(findings)
      .slice(0, causesMax)
      .flatMap((group) => causeLines(label, group, page)),
    ...moreCauses(label, findings),
  ];
  const lines = [
    ...list('mended', fixed),
    ...list('breaks', broken).map(page.paint.wrong),
    ...list('cannot tell', unknown).map(page.paint.unknown),
  ];
  const left =
    standing.length === 0
      ? []
      : [`${standing.length} findings stand before and after; hopgauge audit shows them`];
  const none =
    lines.length === 0 ? ['no rule comes to another verdict once all steps are done'] : [];
  return [...lines, ...none, ...left];
}
