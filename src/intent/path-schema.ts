import { z } from 'zod';
import { nameText, oneOrMore, unitText } from './schema-parts.ts';
import { mtuSchema } from './segment-schema.ts';
import { parseRate, speedPattern } from './speed.ts';

/** Highest goodput that can be declared, in Mb/s. */
const goodputMbpsMax = 400_000;

const goodputText = unitText(
  'TCP payload per second that the path must be able to carry, such as 9.4G',
  speedPattern,
  "must be a rate; write it with its unit, such as '9.4G'",
).refine((text) => (parseRate(text) ?? Number.POSITIVE_INFINITY) <= goodputMbpsMax, {
  error: 'is out of range; write more than 0 and at most 400G',
  when: ({ issues }) => issues.length === 0,
});

/** One entry of `paths:`. */
export const pathSchema = z
  .strictObject({
    from: oneOrMore(nameText, 'Nodes or segments at one end'),
    to: oneOrMore(nameText, 'Nodes or segments at the other end'),
    over: oneOrMore(nameText, 'Segments that the path goes over').exactOptional(),
    mtu: mtuSchema
      .describe(
        'IP packet that the whole path must carry, in bytes; the smallest of its segments by default',
      )
      .exactOptional(),
    goodput: goodputText.exactOptional(),
    load: z
      .literal('allowed')
      .describe('allowed: bounded transfers may be run on the path')
      .exactOptional(),
    fit: z
      .literal('nightly')
      .describe(
        'nightly: an audit that reads sends a few packets both ways and keeps which sizes pass',
      )
      .exactOptional(),
  })
  .describe('End to end, over one segment or several');

/** A path as it is written. */
export type PathText = z.output<typeof pathSchema>;
