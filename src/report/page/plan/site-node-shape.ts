import { columnsOf } from '../../layout.ts';
import { type Markup, markup } from '../markup.ts';
import { shorten } from '../shorten.ts';
import type { Leads } from './leads.ts';
import { findingCount } from './link-words.ts';
import type { Box, Limb } from './site-layout-types.ts';
import { type Standing, standingWords } from './standing.ts';
import type { SheetNode } from './whole-sheet.ts';

/** Width of a column of a name, in a fixed-width face at 12 px. */
const columnWidth = 7.3;
const nameColumnsMax = 20;
/** Left of the name, for the mark; and right of it. */
const signRoom = 23;
const nameEnd = 9;

/** Width of the box that a node needs for its mark and name. */
export function nodeWidth({ name }: SheetNode): number {
  return signRoom + columnsOf(shortName(name)) * columnWidth + nameEnd;
}

function shortName(name: string): string {
  return shorten(name, nameColumnsMax);
}

/** What a body grows to reach what hangs on it. */
export interface Growth {
  readonly bars: readonly Box[];
  readonly limbs: readonly Limb[];
}

/** A node by the shape of its kind, with its mark and name; leads to its details. */
export function nodeShape(
  node: SheetNode,
  box: Box | undefined,
  { bars, limbs, leads }: Growth & { readonly leads: Leads },
): Markup {
  if (box === undefined) return markup``;
  const { x, y, width, height } = box;
  const { name, kind, reading, told, details } = node;
  const middle = y + height / 2;
  const shown = shortName(name);
  const classes = `node ${kind} ${reading.replaceAll(' ', '-')} ${told.standing}`;
  return markup`<a class="${classes}" data-node="${details}" data-standing="${told.standing}" href="${leads.node(details)}" aria-label="${nodeWords(node)}">${shown === name ? undefined : markup`<title>${name}</title>`}${limbs.map(
    ({ points }) =>
      markup`<path class="limb" d="M${points.map((each) => `${each.x} ${each.y}`).join('L')}"/>`,
  )}${bars.map(
    (bar) =>
      markup`<rect class="bar" x="${bar.x}" y="${bar.y}" width="${bar.width}" height="${bar.height}"/>`,
  )}<rect class="halo" x="${x - 3}" y="${y - 3}" width="${width + 6}" height="${height + 6}"/>${bodyOf(kind, box)}<rect class="plate" x="${x + 5}" y="${middle - 7}" width="14" height="14"/>${signMarkup(node, x + 7, middle - 5)}<text class="name" x="${x + signRoom}" y="${middle + 4}">${shown}</text></a>
`;
}

/** Whether there is something to say of what was found: of a node that nobody read, nothing is no news. */
export function hasSign({ reading, told }: SheetNode): boolean {
  return reading === 'read' || told.standing !== 'met';
}

function signMarkup(node: SheetNode, x: number, y: number): Markup | undefined {
  if (!hasSign(node)) return undefined;
  const { standing } = node.told;
  return markup`<g class="${standing}" transform="translate(${x} ${y})">${signOf(standing)}</g>`;
}

/** What a node is, how it was read and what was found on it, in one line. */
export function nodeWords(node: SheetNode): string {
  const { name, kind, reading, told } = node;
  const said = [
    ...(kind === 'count' ? [] : [kind]),
    ...(reading === 'read' ? [] : [reading]),
    ...(told.count === 0 ? [] : [`${findingCount(told.count)} on it`]),
    ...(hasSign(node) ? [standingWords[told.standing]] : []),
  ];
  return `${name}: ${said.join(', ')}`;
}

/** The body of a kind: a switch is square and dark, a router pointed at both sides, a host round, a count a stack. */
export function bodyOf(kind: SheetNode['kind'], { x, y, width, height }: Box): Markup {
  const [right, bottom, middle] = [x + width, y + height, y + height / 2];
  if (kind === 'router')
    return markup`<path class="body" d="M${x} ${middle}L${x + 6} ${y}H${right - 6}L${right} ${middle}L${right - 6} ${bottom}H${x + 6}Z"/>`;
  const round = kind === 'switch' ? 0 : 5;
  const body = markup`<rect class="body" x="${x}" y="${y}" width="${width}" height="${height}" rx="${round}"/>`;
  if (kind !== 'count') return body;
  return markup`<path class="body" d="M${x + 4} ${bottom + 3}H${right + 3}V${y + 4}"/>${body}`;
}

/** The mark of a standing, 10 by 10: told by its shape. */
export function signOf(standing: Standing): Markup {
  const paths = {
    broken: 'M1 1L9 9M9 1L1 9',
    undetermined: 'M2 3A3 2.6 0 1 1 5 5.4V6.6M5 9V9.4',
    waived: 'M0.5 5H9.5',
    notice: 'M5 1V1.4M5 4V9',
    met: 'M1.5 5.5L4 8L8.5 2.5',
  } as const;
  return markup`<path class="sign" d="${paths[standing]}"/>`;
}
