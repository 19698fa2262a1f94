import { isMap, isSeq, LineCounter, parseDocument } from 'yaml';
import { accessLines, linkLines, nodeLine, pathLine, segmentLines } from './draft-text.ts';
import type { Insertion } from './patch.ts';
import type { Draft } from './types.ts';

/** Lines to put into an intent, or why a section cannot take any. */
export interface OntoPlan {
  readonly insertions: readonly Insertion[];
  /** Sections that are written in one line, with what they would take. */
  readonly refused: readonly { readonly section: string; readonly lines: readonly string[] }[];
}

/**
 * Where the things of a draft go in an existing file: behind the last entry of their section, as
 * it is indented there, or in a new section at the end. Nothing that is there is touched.
 */
export function planOnto(source: string, draft: Draft): OntoPlan {
  const sections: readonly (readonly [string, readonly string[]])[] = [
    ['access', accessLines(draft.access)],
    ['nodes', draft.nodes.map(nodeLine)],
    ['segments', draft.segments.flatMap(segmentLines)],
    ['links', draft.links.flatMap(linkLines)],
    ['paths', draft.paths.map(pathLine)],
  ];
  const lineCounter = new LineCounter();
  const document = parseDocument(source, { lineCounter, logLevel: 'silent' });
  const total = lineCountOf(source);
  const entries: Insertion[] = [];
  const newSections: Insertion[] = [];
  const refused: { section: string; lines: readonly string[] }[] = [];
  for (const [section, lines] of sections) {
    if (lines.length === 0) continue;
    const found = document.get(section, true);
    if (found === undefined) {
      newSections.push({
        after: total,
        lines: [`${section}:`, ...lines.map((line) => `  ${line}`)],
      });
      continue;
    }
    const place =
      (isMap(found) || isSeq(found)) && found.flow !== true
        ? blockEnd(found, lineCounter)
        : undefined;
    if (place === undefined) refused.push({ section, lines });
    else entries.push({ after: place.line, lines: lines.map((line) => `${place.indent}${line}`) });
  }
  // The last section of the file ends where new ones begin: its entries go first.
  return { insertions: [...entries, ...newSections], refused };
}

interface BlockPlace {
  /** Last line of the section that holds something, counted from 1. */
  readonly line: number;
  readonly indent: string;
}

interface Ranged {
  readonly range?: readonly [number, number, number] | null | undefined;
  readonly items: readonly unknown[];
}

/** Undefined where the section is empty or its places are not known. */
function blockEnd(block: Ranged, lineCounter: LineCounter): BlockPlace | undefined {
  const [first] = block.items;
  const range = block.range;
  const start = offsetOf(first) ?? range?.[0];
  if (range === undefined || range === null || start === undefined) return undefined;
  const { col } = lineCounter.linePos(isItemOfList(block) ? range[0] : start);
  const { line, col: endColumn } = lineCounter.linePos(range[1]);
  return { line: endColumn === 1 ? line - 1 : line, indent: ' '.repeat(col - 1) };
}

function isItemOfList(block: unknown): boolean {
  return isSeq(block);
}

function offsetOf(item: unknown): number | undefined {
  const key = typeof item === 'object' && item !== null && 'key' in item ? item.key : undefined;
  const range = typeof key === 'object' && key !== null && 'range' in key ? key.range : undefined;
  return Array.isArray(range) && typeof range[0] === 'number' ? range[0] : undefined;
}

function lineCountOf(source: string): number {
  return source === '' ? 0 : source.replace(/\n$/, '').split('\n').length;
}
