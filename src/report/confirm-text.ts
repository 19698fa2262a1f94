import type { Confirmation } from '../change/confirmation.ts';
import type { Severity } from '../judge/types.ts';
import { confirmHead } from './confirm-head.ts';
import { type ConfirmPart, confirmParts } from './confirm-parts.ts';
import { clean, padEnd, wrap } from './layout.ts';
import { type Paint, paintFor } from './paint.ts';
import { labelColumns } from './remark-lines.ts';

const widthMin = 40;
const widthMax = 120;

interface Page {
  readonly width: number;
  readonly paint: Paint;
}

/** A confirmed change: the verdict with counts, what speaks against it, what is as foretold. */
export function confirmText(
  confirmation: Confirmation,
  look: { readonly width: number; readonly colour: boolean; readonly least: Severity },
): string {
  const page: Page = {
    width: Math.min(widthMax, Math.max(widthMin, look.width)),
    paint: paintFor(look.colour),
  };
  const { verdict, wrong, times, mind } = confirmHead(confirmation, look.least);
  const { paint, width } = page;
  const blocks = [
    [
      ...wrap('', clean(verdict), width).map(wrong ? paint.wrong : paint.strong),
      ...wrap('', clean(times), width),
    ],
    confirmParts(confirmation).flatMap((part) => partLines(part, page)),
    mind === undefined ? [] : wrap('', clean(mind), width).map(paint.strong),
  ].filter((lines) => lines.length > 0);
  return `${blocks.map((lines) => lines.join('\n')).join('\n\n')}\n`;
}

function partLines({ label, tone, items }: ConfirmPart, { width, paint }: Page): string[] {
  return items
    .flatMap((item, at) => wrap(padEnd(at === 0 ? label : '', labelColumns), clean(item), width))
    .map(paint[tone]);
}
