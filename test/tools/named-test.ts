// Looks into the text of a test file, laid out as biome does: a block ends with the first line that is
// indented as its first one. No parser of TypeScript is at hand that could be asked instead.

/** A test or a group of tests in the text of a file. */
export interface NamedTest {
  /** Words behind `it` and `describe` of the test and of the groups around it: `skip`, `runIf`. */
  readonly marks: readonly string[];
  /** Whether it expects something, by itself or in a function of its file that it names. */
  readonly expects: boolean;
}

/** What stands before a title, and the title with the rest: it begins behind the last bracket. */
const title = /^\s*(?:it|describe)\b(.*)\(\s*['"`](.*)$/;
const expecting = /\bexpect(?:\.\w+)?\(|\bfc\.assert\(/;

/** The test whose title holds `name`; undefined: there is none, only other text at most. */
export function namedTest(text: string, name: string): NamedTest | undefined {
  const lines = withTitles(text.split('\n').map((line) => (/^\s*\/\//.test(line) ? '' : line)));
  const at = lines.findIndex((line) => title.exec(line)?.[2]?.includes(name) === true);
  const first = lines[at];
  if (first === undefined) return undefined;
  const marks = [...around(lines, at), first].flatMap(marksOf);
  const body = blockAt(lines, at);
  return { marks, expects: expecting.test(body) || helpersIn(lines, body).some(isExpecting) };
}

/** A title that is laid out below its `it.each(rows)(` moves up to it. */
function withTitles(lines: readonly string[]): readonly string[] {
  const below = (at: number) => /^\s*(?:it|describe)\b.*\($/.test(lines[at] ?? '');
  return lines.map((line, at) => {
    if (below(at)) return `${line}${lines[at + 1]?.trim() ?? ''}`;
    return below(at - 1) ? '' : line;
  });
}

function isExpecting(text: string): boolean {
  return expecting.test(text);
}

function marksOf(line: string): readonly string[] {
  const [, behind = ''] = title.exec(line) ?? [];
  return [...behind.matchAll(/\.(\w+)/g)].map(([, word = '']) => word);
}

/** Lines of the groups that a line stands in. */
function around(lines: readonly string[], at: number): readonly string[] {
  let depth = indentOf(lines[at] ?? '');
  const groups: string[] = [];
  for (const line of lines.slice(0, at).toReversed()) {
    if (line === '' || indentOf(line) >= depth) continue;
    depth = indentOf(line);
    groups.push(line);
  }
  return groups;
}

function blockAt(lines: readonly string[], at: number): string {
  const depth = indentOf(lines[at] ?? '');
  const rest = lines.slice(at + 1);
  // A line such as `}, async () => {` ends one part and begins the next.
  const end = rest.findIndex(
    (line) => line !== '' && indentOf(line) <= depth && !/[{([]$/.test(line),
  );
  return [lines[at], ...rest.slice(0, end < 0 ? undefined : end + 1)].join('\n');
}

/** Functions of the file that a body names. */
function helpersIn(lines: readonly string[], body: string): readonly string[] {
  return lines.flatMap((line, at) => {
    const [, name] = /^\s*(?:export )?(?:async )?(?:function|const) (\w+)\b/.exec(line) ?? [];
    const names = name !== undefined && new RegExp(`\\b${name}\\b`).test(body);
    return names && !body.includes(line) ? [blockAt(lines, at)] : [];
  });
}

function indentOf(line: string): number {
  return line.length - line.trimStart().length;
}
