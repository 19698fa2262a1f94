import type { Gap } from '../facts/gap.ts';
import type { HopClearance } from '../site/types.ts';
import { centre, columnsOf } from './layout.ts';

/** How a hop stands to the packet that must pass it. */
export type Stand = 'passes' | 'too small' | 'not settled' | 'not known' | 'no demand';

/** Compares a clearance with the declared packet; without one, there is no demand. */
export function standOf(clearance: HopClearance, demandBytes: number | undefined): Stand {
  const { atLeastBytes, atMostBytes } = clearance;
  if (demandBytes !== undefined && atMostBytes !== undefined && atMostBytes < demandBytes) {
    return 'too small';
  }
  if (demandBytes !== undefined && atLeastBytes !== undefined && atLeastBytes >= demandBytes) {
    return 'passes';
  }
  if (atLeastBytes === undefined && atMostBytes === undefined) return 'not known';
  return demandBytes === undefined ? 'no demand' : 'not settled';
}

/** The packet that passes, in bytes: `9000`, `9194 to 9216`, `1500 or more`. */
export function clearanceWords(clearance: HopClearance): string {
  const { atLeastBytes, atMostBytes } = clearance;
  if (atLeastBytes === undefined && atMostBytes === undefined) return '?';
  if (atMostBytes === undefined) return `${atLeastBytes} or more`;
  if (atLeastBytes === undefined) return `${atMostBytes} or less`;
  return atLeastBytes === atMostBytes ? `${atMostBytes}` : `${atLeastBytes} to ${atMostBytes}`;
}

/** Short words for why a value is not known. */
export const gapSigns = {
  unsupported: 'not told',
  denied: 'denied',
  unreadable: 'unreadable',
  truncated: 'cut short',
  unasked: 'not asked',
  down: 'down',
  unreachable: 'not read',
  doubtful: 'doubtful',
} as const satisfies Record<Gap['reason'], string>;

/**
 * A hop as an opening in a wall, `columns` wide at full size: `[ 9000 ]` in brackets where it was
 * read, in parentheses where it stands on the owner's word, walled in by `=` by as much as the
 * packet falls short of `fullBytes`, filled with `:` where the value does not settle the matter
 * and with `?` where nothing is known.
 */
export function opening(
  clearance: HopClearance,
  stand: Stand,
  size: { readonly columns: number; readonly fullBytes: number | undefined },
): string {
  const words = ` ${clearanceWords(clearance)} `;
  const inner = size.columns - 2;
  if (stand === 'not known') {
    const sign = clearance.gap === undefined ? 'not known' : gapSigns[clearance.gap.reason];
    return `[${centre(` ${sign} `, inner, '?')}]`;
  }
  if (stand === 'not settled') return `[${centre(words, inner, ':')}]`;
  const bytes = clearance.atMostBytes ?? clearance.atLeastBytes ?? 0;
  const share = size.fullBytes === undefined ? 1 : Math.min(1, bytes / size.fullBytes);
  const open = Math.max(columnsOf(words), Math.round(inner * share));
  const gap = centre(words, Math.min(inner, open));
  return centre(clearance.onWord ? `(${gap})` : `[${gap}]`, size.columns, '=');
}

/** The declared packet, drawn to the same measure: the load that must go through. */
export function load(bytes: number, columns: number): string {
  return `<${centre(` ${bytes} `, columns - 2, '-')}>`;
}
