import type { ChangeRemark } from '../change/types.ts';
import { clean, padEnd, wrap } from './layout.ts';
import type { Paint } from './paint.ts';

/** Columns of the labels before remarks and findings: `impossible` and two blanks. */
export const labelColumns = 12;

const remarkOrder = ['impossible', 'forgotten', 'unknown', 'caution'] as const;
const remarkWords = {
  impossible: 'impossible',
  forgotten: 'forgotten',
  unknown: 'not known',
  caution: 'mind',
} as const;

/** Remarks by kind, what cannot be first, each with what to do. */
export function remarkLines(
  remarks: readonly ChangeRemark[],
  page: { readonly width: number; readonly paint: Paint },
): string[] {
  return remarkOrder.flatMap((kind) =>
    remarks
      .filter((remark) => remark.kind === kind)
      .flatMap(({ on, what, remedy }) => {
        const label = padEnd(remarkWords[kind], labelColumns);
        const lines = wrap(label, clean(`${on} ${what}`), page.width);
        const remedies =
          remedy === undefined ? [] : wrap(padEnd('  do', labelColumns), clean(remedy), page.width);
        const bad = kind === 'impossible' || kind === 'forgotten';
        return [...lines.map(bad ? page.paint.wrong : page.paint.plain), ...remedies];
      }),
  );
}
