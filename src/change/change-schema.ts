import { z } from 'zod';
import { nameText, plainText, together, wholeNumber } from '../intent/schema-parts.ts';
import { mtuSchema } from '../intent/segment-schema.ts';
import { speedSchema } from '../intent/speed-schema.ts';
import { mtuChanges } from '../intent/types.ts';

/** Ports, links, nodes or segments of one change, at most. */
export const changeEntriesMax = 10_000;

const lineSettings = {
  speed: speedSchema.exactOptional(),
  duplex: z.enum(['full', 'half']).describe('Duplex to set').exactOptional(),
  negotiate: z.boolean().describe('Auto-negotiation on or off').exactOptional(),
};

const portSchema = z
  .strictObject({
    mtu: wholeNumber('What the node is to call the MTU of the port', 68, 65_535).exactOptional(),
    ...lineSettings,
  })
  .check(({ value, issues }) => notEmpty(value, issues))
  .describe('What is set on a port');

const linkSchema = z
  .strictObject({
    ...lineSettings,
    move: plainText(
      'Both ends once its cord is moved, as node:port - node:port',
      400,
    ).exactOptional(),
    remove: z.literal(true).describe('Its cord is taken away').exactOptional(),
  })
  .check(({ value, issues }) => {
    notEmpty(value, issues);
    if (value.remove === true && Object.keys(value).length > 1)
      together(
        issues,
        ['remove'],
        'takes the link away, so that nothing else can be set on it; write only one of them',
      );
  })
  .describe('What is set on both ends of a link, and where its cord comes to');

const deviceSchema = z
  .strictObject({
    by: plainText('What is put in its place, in a few words', 120),
    mtu: wholeNumber(
      'What all its ports call their MTU as it comes; of an unread node its largest frame',
      68,
      65_535,
    ).exactOptional(),
    mtuMax: wholeNumber('The most that it can be set to', 68, 65_535).exactOptional(),
  })
  .describe('Another device in the place of this one, with the same ports');

const nodeSchema = z
  .strictObject({
    mtu: wholeNumber(
      'What the node is to call the MTU of all its ports; of an unread node its largest frame',
      68,
      65_535,
    ).exactOptional(),
    mtuChange: z
      .enum(mtuChanges)
      .describe(
        'What a new MTU does to the node: nothing, a link that goes down for a moment, a restart',
      )
      .exactOptional(),
    replace: deviceSchema.exactOptional(),
  })
  .check(({ value, issues }) => notEmpty(value, issues))
  .describe('What is set on a whole node, or put in its place');

function notEmpty(value: object, issues: z.core.$ZodRawIssue[]): void {
  if (Object.keys(value).length === 0)
    together(issues, [], 'changes nothing; write what is set, or remove it');
}

/** A change file. */
export const changeSchema = z
  .strictObject({
    change: z.literal(1).describe('Version of the form of this file'),
    about: plainText('What the change is for, in a line', 200).exactOptional(),
    ports: z
      .record(plainText('node:port', 200), portSchema)
      .describe('By node:port, as the intent names it')
      .exactOptional(),
    segments: z
      .record(nameText, z.strictObject({ mtu: mtuSchema }).describe('What is declared of it'))
      .describe('What is declared from now on')
      .exactOptional(),
    nodes: z.record(nameText, nodeSchema).describe('By the name of the node').exactOptional(),
    links: z
      .record(plainText('node:port - node:port', 400), linkSchema)
      .describe('By both ends, as the intent has them')
      .exactOptional(),
  })
  .check(({ value, issues }) => {
    const { ports, segments, nodes, links } = value;
    const named = [ports, segments, nodes, links].flatMap((each) => Object.keys(each ?? {}));
    if (named.length === 0)
      together(issues, ['change'], 'has nothing to change; add ports, segments, nodes or links');
    if (named.length > changeEntriesMax)
      together(issues, ['change'], `has more than ${changeEntriesMax} entries; split the change`);
  });

/** A change file as it is written. */
export type ChangeText = z.output<typeof changeSchema>;

/** JSON Schema (draft 7) of a change file, for editors. */
export function changeJsonSchema(): Record<string, unknown> {
  const schema = z.toJSONSchema(changeSchema, { io: 'input', target: 'draft-7' });
  return { ...schema, title: 'hopgauge change file' };
}
