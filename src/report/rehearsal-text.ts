import type { Rehearsal } from '../change/rehearsal.ts';
import type { ChangeRemark } from '../change/types.ts';
import { foldRemarks } from './fold-remarks.ts';
import { clean, wrap } from './layout.ts';
import { orderWords } from './order-words.ts';
import { outcomeLines } from './outcome-lines.ts';
import { paintFor } from './paint.ts';
import { remarkLines } from './remark-lines.ts';
import { stepLines } from './step-lines.ts';
import { timeWords } from './summary-line.ts';
import type { TextLook } from './text-look.ts';
import { waysLines } from './ways-lines.ts';

const widthMin = 40;
const widthMax = 120;

/**
 * A rehearsed change: its steps in order with the state after each, and what it leaves. `confirm` is
 * the command for afterwards; absent: it was not kept.
 */
export function rehearsalText(
  rehearsal: Rehearsal,
  wanted: { readonly width: number; readonly colour: boolean },
  confirm?: string,
): string {
  const look: TextLook = {
    width: Math.min(widthMax, Math.max(widthMin, wanted.width)),
    paint: paintFor(wanted.colour),
  };
  const blocks = [
    headLines(rehearsal, look),
    orderLines(rehearsal, look),
    remarkLines(foldRemarks(rehearsal.remarks), look),
    waysLines(rehearsal, look),
    outcomeLines(rehearsal, look),
    // Whole on its line, to be copied.
    confirm === undefined ? [] : [`after the change: ${clean(confirm)}`],
  ].filter((lines) => lines.length > 0);
  return `${blocks.map((lines) => lines.join('\n')).join('\n\n')}\n`;
}

function headLines(
  { about, site, order, workedOut, surveyedAt, alreadySo }: Rehearsal,
  look: TextLook,
): string[] {
  const count = order?.steps.length ?? 0;
  const whence = workedOut ? 'worked out from the segments' : 'as listed';
  const so =
    alreadySo.length === 0
      ? ''
      : `; ${alreadySo.length} ${alreadySo.length === 1 ? 'setting is' : 'settings are'} so already`;
  const steps = `${count} ${count === 1 ? 'step' : 'steps'}, ${whence}${so}`;
  const title = about === undefined ? `rehearsal for ${site}` : `rehearsal: ${about}`;
  return [
    ...wrap('', clean(title), look.width).map(look.paint.strong),
    ...wrap(
      '',
      clean(`${steps}; on what was read ${timeWords(surveyedAt)}; nothing was changed`),
      look.width,
    ),
  ];
}

/** What is said where there is no step: what was asked for and refused is not done by that. */
function nothingWords({ remarks }: Rehearsal): string {
  const those = (wanted: ChangeRemark['kind']) =>
    new Set(remarks.flatMap(({ kind, on }) => (kind === wanted ? [on] : []))).size;
  const [refused, forgotten] = [those('impossible'), those('forgotten')];
  if (refused > 0) return `nothing can be set: ${refused} refused`;
  if (forgotten > 0) return `no step sets anything, and ${forgotten} forgotten`;
  return 'nothing is left to set';
}

function orderLines(rehearsal: Rehearsal, look: TextLook): string[] {
  const { order, start } = rehearsal;
  if (order === undefined) return [];
  if (order.steps.length === 0) return [nothingWords(rehearsal)];
  const { words, isBad } = orderWords(order, start, rehearsal.pairs);
  return [
    ...stepLines(rehearsal, look),
    ...wrap('order ', clean(words), look.width).map(isBad ? look.paint.wrong : look.paint.plain),
  ];
}
