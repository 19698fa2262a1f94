import { z } from 'zod';
import { runPiecesMax } from './limits.ts';
import { parseRunPiece } from './run-piece.ts';
import { listOf, nameText, oneOrMore, plainText, together } from './schema-parts.ts';
import { speedSchema } from './speed-schema.ts';

/** `node:port`, split at the first colon: a node's name has none, a port's name may. */
export function splitEnd(
  text: string,
): { readonly node: string; readonly port: string } | undefined {
  const colon = text.indexOf(':');
  if (colon < 1 || colon === text.length - 1) return undefined;
  return { node: text.slice(0, colon), port: text.slice(colon + 1) };
}

const endText = plainText('node:port, split at the first colon', 200);

const pieceText = plainText(
  'A passive piece, such as "cord cat6a 2 m", "jack W-07", "panel B/12", "module 10GBASE-T"',
).check(({ value, issues }) => {
  const read = parseRunPiece(value);
  if (!read.ok) issues.push({ code: 'custom', message: read.message, input: value });
});

/** One item of `links:`. */
export const linkSchema = z
  .strictObject({
    ends: z.tuple([endText, endText]).describe('The two ports that are joined'),
    untagged: nameText.describe('Segment whose frames have no VLAN tag here').exactOptional(),
    tagged: oneOrMore(nameText, 'Segments whose frames are tagged here').exactOptional(),
    speed: speedSchema.exactOptional(),
    duplex: z.enum(['full', 'half']).describe('Declared duplex; full by default').exactOptional(),
    lag: plainText('Name of the aggregate that this link is a member of', 64).exactOptional(),
    run: z
      .array(pieceText)
      .max(runPiecesMax)
      .describe('The passive pieces from the first end to the second')
      .exactOptional(),
  })
  .check(({ value, issues }) => {
    if (value.untagged === undefined || !listOf(value.tagged).includes(value.untagged)) return;
    together(
      issues,
      ['untagged'],
      'names a segment that is also in tagged; remove it from one of them',
    );
  })
  .describe('Two ports joined by a run');

/** A link as it is written. */
export type LinkText = z.output<typeof linkSchema>;
