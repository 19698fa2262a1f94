import type { Place } from '../facts/subject.ts';
import { buildAccess } from './build-access.ts';
import { buildLinks } from './build-links.ts';
import { buildNodes } from './build-nodes.ts';
import { buildPaths } from './build-paths.ts';
import { buildPolicies } from './build-policies.ts';
import { buildSegments } from './build-segments.ts';
import { buildWaivers } from './build-waivers.ts';
import { sortFaults } from './fault.ts';
import { joinFiles, type Sections } from './intent-file.ts';
import { withKnownAs } from './known-as.ts';
import { linksMax, nodesMax, pathsMax, segmentsMax } from './limits.ts';
import { loadFiles } from './load-files.ts';
import { type Build, collectNames } from './names.ts';
import type { ReadTextFile } from './read-text.ts';
import type { Section } from './sections.ts';
import { entryPlace } from './spot.ts';
import type { InputFault, Intent, Loaded } from './types.ts';

/** What loading needs to know besides the files. */
export interface LoadIntentOptions {
  /** Names of the policies that ship with hopgauge. */
  readonly shippedPolicies: readonly string[];
  /**
   * Absolute folder that a relative `file` starts from. Absent: the reader is given `file` and
   * what it includes as they are, and policy files stay relative with it.
   */
  readonly workingFolder?: string;
  /** Whether this Node can use DES for SNMP privacy; absent: it cannot (OpenSSL 3). */
  readonly desWorks?: boolean;
}

/**
 * Loads an intent file with all that it includes, and checks it: all faults at once, by file,
 * line and column. The site's name is that of the first file that says one; the named file comes
 * first. Names and texts in the result are safe to print.
 */
export async function loadIntent(
  file: string,
  readFile: ReadTextFile,
  options: LoadIntentOptions,
): Promise<Loaded<Intent>> {
  const { files, complete, faults } = await loadFiles(file, readFile, options.workingFolder);
  const found = [...faults];
  const sections = joinFiles(files, complete);
  checkCounts(sections, found);
  if (found.length === 0 && sections.nodes.entries.length === 0) found.push(noNodes(file));
  const built = buildAll(sections, options, found);
  if (found.length > 0) return { ok: false, faults: sortFaults(found) };
  const site = files.find((one) => one.site !== undefined)?.site ?? 'unnamed site';
  const nodes = built.nodes.map((node) => withKnownAs(node, site));
  const names = files.map((one) => one.file);
  return { ok: true, value: { intent: 1, site, files: names, ...built, nodes } };
}

type Built = Omit<Intent, 'intent' | 'site' | 'files'>;

function buildAll(sections: Sections, options: LoadIntentOptions, faults: InputFault[]): Built {
  const build: Build = { names: collectNames(sections, faults), faults };
  const access = buildAccess(sections.access, faults, options.desWorks ?? false);
  const nodes = buildNodes(sections.nodes, access, faults);
  const segments = buildSegments(sections.segments);
  const linkFaultsFrom = faults.length;
  const links = buildLinks(sections.links, nodes, build);
  // Who is a host, and so at the end of a path, is told by nodes and their accesses.
  const { access: ways, nodes: machines } = sections;
  const linksComplete =
    [ways, machines, sections.links].every(({ entriesComplete }) => entriesComplete) &&
    faults.length === linkFaultsFrom;
  return {
    nodes,
    segments,
    links,
    paths: buildPaths(sections.paths, { nodes, segments, links, linksComplete }, build),
    policies: buildPolicies(sections.policies, options, faults),
    waivers: buildWaivers(sections.waivers, { built: links, complete: linksComplete }, build),
  };
}

function noNodes(file: string): InputFault {
  const place: Place = { file, line: 1, column: 1 };
  return { place, what: 'the intent declares no node', remedy: "add 'nodes:' with at least one" };
}

function checkCounts(sections: Sections, faults: InputFault[]): void {
  checkCount(sections.nodes, nodesMax, faults);
  checkCount(sections.links, linksMax, faults);
  checkCount(sections.segments, segmentsMax, faults);
  checkCount(sections.paths, pathsMax, faults);
}

function checkCount({ entries }: Section<unknown>, most: number, faults: InputFault[]): void {
  const over = entries[most];
  if (over === undefined) return;
  const what = `more than ${most} of these, all files together`;
  const seen = `${entries.length}`;
  faults.push({ place: entryPlace(over.spot), what, seen, remedy: 'split the site into several' });
}
