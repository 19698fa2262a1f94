import { z } from 'zod';
import { accessSchema } from './access-schema.ts';
import { linkSchema } from './link-schema.ts';
import { nodeSchema } from './node-schema.ts';
import { pathSchema } from './path-schema.ts';
import { nameText, plainText, uniqueList } from './schema-parts.ts';
import { segmentSchema } from './segment-schema.ts';
import { waiverSchema } from './waiver-schema.ts';

const intentVersion = z.literal(1).describe('Version of the form of this file');

const shape = {
  site: plainText('Name of the site, for reports').exactOptional(),
  access: z
    .record(nameText, accessSchema)
    .describe('How to log in, by name; ssh and local are built in')
    .exactOptional(),
  nodes: z.record(nameText, nodeSchema).describe('Hosts and switches, by name').exactOptional(),
  segments: z
    .record(nameText, segmentSchema)
    .describe('Broadcast domains, by name')
    .exactOptional(),
  links: z.array(linkSchema).describe('Ports that are joined').exactOptional(),
  paths: z.record(nameText, pathSchema).describe('What is to work, by name').exactOptional(),
  policies: uniqueList(
    plainText('Shipped policy, or a .yaml file relative to this one', 1024),
    'Policies to judge by; essential and jumbo by default',
  ).exactOptional(),
  include: uniqueList(
    plainText('Intent file relative to this one', 1024),
    'Intent files to merge into this one',
  ).exactOptional(),
  waivers: z.array(waiverSchema).describe('Findings that the owner accepts').exactOptional(),
};

/** The whole intent file: validation and the JSON Schema for editors come from it. */
export const intentSchema = z
  .strictObject({ intent: intentVersion, ...shape })
  .describe('What a network is meant to be');

/** A file that another one includes: need not say the version. */
export const includedSchema = z.strictObject({ intent: intentVersion.exactOptional(), ...shape });

/** JSON Schema (draft 7) of the intent file. */
export function intentJsonSchema(): Record<string, unknown> {
  const schema = z.toJSONSchema(intentSchema, { io: 'input', target: 'draft-7' });
  return { ...schema, title: 'hopgauge intent file' };
}
