import type { z } from 'zod';
import { quoted } from './fault.ts';
import { issueText } from './issue-text.ts';
import { nearestWord, wordRemedy } from './nearest.ts';
import { keysAt } from './schema-keys.ts';
import { togetherParam } from './schema-parts.ts';
import { seenText, valueAt } from './seen.ts';
import { entryPlace, type Spot, spotAt } from './spot.ts';
import type { InputFault } from './types.ts';
import type { YamlTree } from './yaml-tree.ts';

type Issue = z.core.$ZodIssue;
type Path = readonly PropertyKey[];

/** What a schema finds in a file. */
export interface SchemaFaults {
  readonly faults: readonly InputFault[];
  /** Path of every value at fault, so that nothing is built on it. */
  readonly paths: readonly Path[];
  /** Keys that the root lacks and that an unknown one there may be meant for. */
  readonly meantAtRoot: ReadonlySet<string>;
}

/** All faults of `tree` by `schema`, each told once; `fileWord` is what the file is. */
export function schemaFaults(
  schema: z.ZodType,
  tree: YamlTree,
  fileWord = 'an intent file',
): SchemaFaults {
  const parsed = schema.safeParse(tree.value);
  const issues = parsed.success ? [] : parsed.error.issues.flatMap(innermost);
  const unknown = issues.flatMap((issue) => unknownKeys(schema, tree, issue, fileWord));
  const meant = new Set(unknown.flatMap(({ meantPath }) => meantPath ?? []));
  const unsureMaps = new Set(unknown.map(({ path }) => pathText(path.slice(0, -1))));
  const told = firstPerPath(issues).filter((issue) => {
    const missing = valueAt(tree.value, issue.path) === undefined;
    if (missing && meant.has(pathText(issue.path))) return false;
    const map = mapJudged(issue);
    return map === undefined || !unsureMaps.has(pathText(map));
  });
  const paths = [...unknown.map(({ path }) => path), ...told.map(({ path }) => path)];
  const faults = [
    ...unknown.map(({ fault }) => fault),
    ...told.map((issue) => issueFault(tree, issue)),
    ...oddNumbers(tree, paths),
  ];
  const atRoot = unknown.filter(({ path }) => path.length === 1);
  return { faults, paths, meantAtRoot: new Set(atRoot.flatMap(({ mayMean }) => mayMean)) };
}

// How keys go together is not told of a map with an unknown key: it may be the one that lacks.
function mapJudged(issue: Issue): Path | undefined {
  const below: unknown = issue.code === 'custom' ? issue.params?.[togetherParam] : undefined;
  return typeof below === 'number' ? issue.path.slice(0, issue.path.length - below) : undefined;
}

function pathText(path: Path): string {
  return path.map(String).join('\u0000');
}

function firstPerPath(issues: readonly Issue[]): readonly Issue[] {
  const seen = new Set<string>();
  return issues.filter((issue) => {
    const key = pathText(issue.path);
    return issue.code !== 'unrecognized_keys' && !seen.has(key) && seen.add(key);
  });
}

// A union says of each option why it does not fit; the option of the right type says it best.
function innermost(issue: Issue): readonly Issue[] {
  if (issue.code !== 'invalid_union' || issue.errors.length === 0) return [issue];
  const without = (...refusals: readonly string[]) =>
    issue.errors.find(
      (errors) => !errors.some(({ code, path }) => path.length === 0 && refusals.includes(code)),
    );
  // A choice of words refuses a map as it does a wrong word: by the value, not by the type.
  const fits = without('invalid_type', 'invalid_value') ?? without('invalid_type');
  if (fits === undefined) return [issue];
  return fits.flatMap((error) => innermost({ ...error, path: [...issue.path, ...error.path] }));
}

interface UnknownKey {
  readonly path: Path;
  readonly meantPath: string | undefined;
  /** Keys that it may be meant for: the nearest of the map, else all that are not there. */
  readonly mayMean: readonly string[];
  readonly fault: InputFault;
}

function unknownKeys(
  schema: z.ZodType,
  tree: YamlTree,
  issue: Issue,
  fileWord: string,
): readonly UnknownKey[] {
  if (issue.code !== 'unrecognized_keys') return [];
  const known = keysAt(schema, issue.path, tree.value);
  const there = spotAt(tree.spot, issue.path).children;
  const free = known.filter((key) => !there.has(key));
  return issue.keys.map((key) => {
    const path = [...issue.path, key];
    const meant = nearestWord(key, free);
    const inWhat = issue.path.length === 0 ? fileWord : subjectOf(issue.path);
    return {
      path,
      meantPath: meant === undefined ? undefined : pathText([...issue.path, meant]),
      mayMean: mayMean(key, known, free),
      fault: {
        place: entryPlace(spotAt(tree.spot, path)),
        what: `${inWhat} has no such key`,
        seen: quoted(key),
        remedy: unknownKeyRemedy(key, known, free),
      },
    };
  });
}

function mayMean(key: string, known: readonly string[], free: readonly string[]) {
  const meant = nearestWord(key, free);
  if (meant !== undefined) return [meant];
  return nearestWord(key, known) === undefined ? free : [];
}

function unknownKeyRemedy(key: string, known: readonly string[], free: readonly string[]): string {
  const there = nearestWord(key, free) === undefined ? nearestWord(key, known) : undefined;
  return there === undefined ? wordRemedy(key, free) : `remove it: '${there}' is there`;
}

function issueFault(tree: YamlTree, issue: Issue): InputFault {
  const spot = spotAt(tree.spot, issue.path);
  const key = issue.code === 'invalid_key';
  const value = key ? issue.path.at(-1) : valueAt(tree.value, issue.path);
  const subject = key ? `a key of ${subjectOf(issue.path.slice(0, -1))}` : subjectOf(issue.path);
  const seen = seenText(issue.path, value, spot);
  const place =
    key || typeof value === 'object' || value === undefined ? entryPlace(spot) : spot.value;
  const shown = seen === undefined ? {} : { seen };
  return { place, ...issueText(issue, subject, value), ...shown };
}

/** The thing at `path` in a message: its key, or the list that it is in. */
function subjectOf(path: Path): string {
  const last = path.at(-1);
  if (last === undefined) return 'the file';
  if (typeof last !== 'number') return quoted(String(last));
  return `an entry of ${subjectOf(path.slice(0, -1))}`;
}

function oddNumbers(tree: YamlTree, paths: readonly Path[]): readonly InputFault[] {
  const told = new Set<Spot>(paths.map((path) => spotAt(tree.spot, path)));
  return tree.oddNumbers
    .filter((spot) => !told.has(spot))
    .map((spot) => ({
      place: spot.value,
      what: 'a number is not written the plain way',
      ...(spot.source === undefined ? {} : { seen: quoted(spot.source) }),
      remedy: 'write plain decimal digits, or put it in quotes if text is meant',
    }));
}
