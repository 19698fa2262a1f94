import type { Document, LineCounter } from 'yaml';
import type { Place } from '../facts/subject.ts';
import { yamlDepthMax } from './limits.ts';
import type { Spot } from './spot.ts';
import type { InputFault } from './types.ts';
import { convertYaml } from './yaml-convert.ts';
import { yamlFault } from './yaml-fault.ts';
import { composeYaml } from './yaml-text.ts';

/** A YAML file as plain data, with the place of everything in it. */
export interface YamlTree {
  readonly value: Readonly<Record<string, unknown>>;
  readonly spot: Spot;
  /**
   * Numbers not written the plain way (`010`, `1.10`): YAML would change them silently. Each is a
   * fault unless the schema already finds one there.
   */
  readonly oddNumbers: readonly Spot[];
  /** Faults that leave the rest of the tree usable, such as a key that is there twice. */
  readonly faults: readonly InputFault[];
}

/** A document with places, or its faults. */
export type YamlRead =
  | { readonly ok: true; readonly tree: YamlTree }
  | { readonly ok: false; readonly faults: readonly InputFault[] };

/** Reads a YAML file whose root is a map. Every warning of the parser is a fault. */
export function readYaml(text: string, file: string): YamlRead {
  const composed = composeYaml(text);
  const placeAt = (offset: number) => placeIn(composed.lines, file, offset);
  if (!composed.ok) {
    const what = `braces, brackets or blocks nest more than ${yamlDepthMax} deep`;
    return refused({ place: placeAt(composed.offset), what, remedy: 'flatten it' });
  }
  const { errors, warnings } = composed.document;
  // What is not closed is also wrongly indented; that it is not closed says more.
  const byWorth = [...errors, ...warnings].sort(
    (a, b) => Number(a.code === 'BAD_INDENT') - Number(b.code === 'BAD_INDENT'),
  );
  const faults = byWorth.map((error) => yamlFault(error.code, placeAt(error.pos[0])));
  if (faults.length > 0) return { ok: false, faults: oncePerLine(faults) };
  return treeOf(composed.document, placeAt);
}

function treeOf(document: Document.Parsed, placeAt: (offset: number) => Place): YamlRead {
  const { value, spot, oddNumbers, faults, broken } = convertYaml(document.contents, placeAt);
  if (broken) return { ok: false, faults };
  if (isRecord(value)) return { ok: true, tree: { value, spot, oddNumbers, faults } };
  if (value === null) {
    const what = 'the file is empty';
    return refused({ place: placeAt(0), what, remedy: 'write a map of keys and values' });
  }
  const what = `the file holds ${Array.isArray(value) ? 'a list' : 'plain text'}, not a map`;
  return refused({ place: spot.value, what, remedy: "write 'key: value' lines" });
}

function refused(fault: InputFault): YamlRead {
  return { ok: false, faults: [fault] };
}

function placeIn(lines: LineCounter, file: string, offset: number): Place {
  const { line, col } = lines.linePos(offset);
  return { file, line: Math.max(line, 1), column: Math.max(col, 1) };
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

// One broken line gives several errors; the first says it best.
function oncePerLine(faults: readonly InputFault[]): readonly InputFault[] {
  const seen = new Set<number>();
  return faults.filter(({ place }) => {
    return !seen.has(place.line) && seen.add(place.line);
  });
}
