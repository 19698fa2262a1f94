import { z } from 'zod';
import { type AccessText, accessSchema } from './access-schema.ts';
import { includedSchema, intentSchema } from './intent-schema.ts';
import { type LinkText, linkSchema } from './link-schema.ts';
import { type NodeText, nodeSchema } from './node-schema.ts';
import { type PathText, pathSchema } from './path-schema.ts';
import { schemaFaults } from './schema-faults.ts';
import { joinSections, type Section, sectionOf } from './sections.ts';
import { type SegmentText, segmentSchema } from './segment-schema.ts';
import type { InputFault } from './types.ts';
import { type WaiverText, waiverSchema } from './waiver-schema.ts';
import { readYaml } from './yaml-tree.ts';

/** The sections of an intent, of one file or of all. */
export interface Sections {
  readonly access: Section<AccessText>;
  readonly nodes: Section<NodeText>;
  readonly segments: Section<SegmentText>;
  readonly links: Section<LinkText>;
  readonly paths: Section<PathText>;
  readonly policies: Section<string>;
  readonly waivers: Section<WaiverText>;
}

/** One file of an intent, valid as far as the schema sees. */
export interface IntentFile {
  readonly file: string;
  readonly site?: string;
  readonly sections: Sections;
  readonly include: Section<string>;
}

/** What one file gives; no `parsed` when it is no YAML map at all. */
export interface IntentFileRead {
  readonly parsed?: IntentFile;
  readonly faults: readonly InputFault[];
}

/** Reads the text of one intent file by the schema, without following its includes. */
export function readIntentFile(text: string, file: string, included: boolean): IntentFileRead {
  const read = readYaml(text, file);
  if (!read.ok) return { faults: read.faults };
  const { tree } = read;
  const found = schemaFaults(included ? includedSchema : intentSchema, tree);
  const from = { tree, found };
  const site = intentSchema.shape.site.safeParse(tree.value['site']);
  const parsed: IntentFile = {
    file,
    ...(site.success && site.data !== undefined ? { site: site.data } : {}),
    sections: {
      access: sectionOf('access', accessSchema, from),
      nodes: sectionOf('nodes', nodeSchema, from),
      segments: sectionOf('segments', segmentSchema, from),
      links: sectionOf('links', linkSchema, from),
      paths: sectionOf('paths', pathSchema, from),
      policies: sectionOf('policies', z.string(), from),
      waivers: sectionOf('waivers', waiverSchema, from),
    },
    include: sectionOf('include', z.string(), from),
  };
  return { parsed, faults: [...tree.faults, ...found.faults] };
}

/** The sections of all files as one; `allFiles` is false when a file could not be read. */
export function joinFiles(files: readonly IntentFile[], allFiles: boolean): Sections {
  const all = files.map(({ sections }) => sections);
  return {
    access: joinSections(
      all.map(({ access }) => access),
      allFiles,
    ),
    nodes: joinSections(
      all.map(({ nodes }) => nodes),
      allFiles,
    ),
    segments: joinSections(
      all.map(({ segments }) => segments),
      allFiles,
    ),
    links: joinSections(
      all.map(({ links }) => links),
      allFiles,
    ),
    paths: joinSections(
      all.map(({ paths }) => paths),
      allFiles,
    ),
    policies: joinSections(
      all.map(({ policies }) => policies),
      allFiles,
    ),
    waivers: joinSections(
      all.map(({ waivers }) => waivers),
      allFiles,
    ),
  };
}
