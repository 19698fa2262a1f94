import { z } from 'zod';
import { cleanText } from '../facts/clean-text.ts';
import { isCalendarDate } from './calendar-date.ts';
import { checkedText, patternText, plainText } from './schema-parts.ts';

/** One item of `waivers:`. */
export const waiverSchema = z
  .strictObject({
    rule: patternText(
      'Rule whose finding is accepted',
      /^[a-z][a-z0-9]*(?:-[a-z0-9]+)*$/,
      "must be the name of a rule; write lower-case words joined by hyphens, as 'hopgauge rules' shows",
    ),
    on: plainText('Node, node:port, segment, path or link that it is accepted on', 420),
    until: checkedText(
      'Last day on which the waiver holds, YYYY-MM-DD',
      isCalendarDate,
      "must be a day of the calendar; write it as YYYY-MM-DD, such as '2027-03-31'",
    ),
    because: z
      .string()
      .max(500)
      .refine((text) => cleanText(text) !== '', { error: 'is empty; write why it is accepted' })
      .describe('Why the finding is accepted'),
  })
  .describe('A finding that the owner accepts until a date');

/** A waiver as it is written. */
export type WaiverText = z.output<typeof waiverSchema>;
