import type { ChangeRemark } from '../change/types.ts';
import { clean, wrap } from './layout.ts';
import { paintFor } from './paint.ts';
import { remarkLines } from './remark-lines.ts';

/** An intent judged by itself. */
export function onPaperText(
  site: string,
  remarks: readonly ChangeRemark[],
  { width, colour }: { readonly width: number; readonly colour: boolean },
): string {
  const paint = paintFor(colour);
  const wrong = remarks.filter(({ kind }) => kind === 'impossible').length;
  const dark = remarks.length - wrong;
  const head =
    remarks.length === 0
      ? `${site} on paper: nothing in the intent speaks against it`
      : `${site} on paper: ${wrong} impossible as declared, ${dark} left unknown`;
  const unread =
    'nothing was read: buses, drivers and modules in place are known only from a survey';
  const lines = [
    ...wrap('', clean(head), width).map(paint.strong),
    ...remarkLines(remarks, { width, paint }),
    ...wrap('', unread, width),
  ];
  return `${lines.join('\n')}\n`;
}
