import type { ChangeRemark } from '../change/types.ts';
import { foldRemarks } from './fold-remarks.ts';
import { clean, wrap } from './layout.ts';
import { paintFor } from './paint.ts';
import { remarkLines } from './remark-lines.ts';

/** An intent judged by itself; remarks that say the same are one line. */
export function onPaperText(
  site: string,
  remarks: readonly ChangeRemark[],
  { width, colour }: { readonly width: number; readonly colour: boolean },
): string {
  const paint = paintFor(colour);
  const unread =
    'nothing was read: buses that are not declared, drivers and modules in place are known only from a survey';
  const lines = [
    ...wrap('', clean(`${site} on paper: ${headWords(remarks)}`), width).map(paint.strong),
    ...remarkLines(foldRemarks(remarks), { width, paint }),
    ...wrap('', unread, width),
  ];
  return `${lines.join('\n')}\n`;
}

function headWords(remarks: readonly ChangeRemark[]): string {
  const count = (kind: ChangeRemark['kind']) =>
    remarks.filter((remark) => remark.kind === kind).length;
  const mind = count('caution') === 0 ? '' : `, ${count('caution')} to mind`;
  if (remarks.length === count('caution')) return `nothing in the intent speaks against it${mind}`;
  return `${count('impossible')} impossible as declared, ${count('unknown')} left unknown${mind}`;
}
