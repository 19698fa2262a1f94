import type { Rehearsal } from '../change/rehearsal.ts';
import type { Finding } from '../judge/types.ts';
import { type CauseGroup, causeGroups } from './cause-groups.ts';
import { alsoWords, titleWords } from './finding-lines.ts';
import { clean, padEnd, wrap } from './layout.ts';
import { labelColumns } from './remark-lines.ts';
import type { TextLook } from './text-look.ts';

/** Causes of one kind that are shown. */
const causesMax = 20;

interface Listed {
  readonly label: string;
  /** What to do is told of it: it is broken once all steps are done. */
  readonly mendable?: true;
}

function causeLines({ label, mendable }: Listed, group: CauseGroup, look: TextLook): string[] {
  const { lead, others } = group;
  const line = (name: string, words: string) =>
    words === '' ? [] : wrap(padEnd(name, labelColumns), words, look.width);
  return [
    ...line(label, clean(titleWords(lead))),
    ...line('  do', mendable ? clean(lead.advice ?? '') : ''),
    ...line('  also', alsoWords(others, false)),
  ];
}

function moreCauses(label: string, findings: readonly Finding[]): string[] {
  const left = causeGroups(findings).length - causesMax;
  return left > 0 ? [`${padEnd(label, labelColumns)}${left} more`] : [];
}

/** Verdicts of the rules that are others once all steps are done, by their causes. */
export function outcomeLines(
  { fixed, broken, unknown, standing }: Rehearsal,
  look: TextLook,
): string[] {
  const list = (listed: Listed, findings: readonly Finding[]) => [
    ...causeGroups(findings)
      .slice(0, causesMax)
      .flatMap((group) => causeLines(listed, group, look)),
    ...moreCauses(listed.label, findings),
  ];
  const lines = [
    ...list({ label: 'mended' }, fixed),
    ...list({ label: 'breaks', mendable: true }, broken).map(look.paint.wrong),
    ...list({ label: 'cannot tell' }, unknown).map(look.paint.unknown),
  ];
  const left =
    standing.length === 0
      ? []
      : [`${standing.length} findings stand before and after; hopgauge audit shows them`];
  const none =
    lines.length === 0 ? ['no rule comes to another verdict once all steps are done'] : [];
  return [...lines, ...none, ...left];
}
