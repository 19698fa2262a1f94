/** Whole lines that go into a file. */
export interface Insertion {
  /** Line behind which they go, counted from 1; 0: before the first. */
  readonly after: number;
  readonly lines: readonly string[];
}

/** Lines of context around each place, as `diff -u` prints. */
const contextLines = 3;

/** A block of a patch: places so near to each other that their context touches. */
interface Hunk {
  readonly from: number;
  readonly to: number;
  readonly insertions: readonly Insertion[];
}

/**
 * A patch in the unified form that `diff -u` prints (POSIX) and that `patch -p0` and `git apply -p0`
 * take; it only adds lines. Empty: there is nothing to add.
 */
export function unifiedPatch(
  file: string,
  source: string,
  insertions: readonly Insertion[],
): string {
  const open = !source.endsWith('\n') && source !== '';
  const lines = source === '' ? [] : source.replace(/\n$/, '').split('\n');
  const sorted = joinSame([...insertions].sort((a, b) => a.after - b.after));
  const hunks = hunksOf(sorted, lines.length);
  if (hunks.length === 0) return '';
  let added = 0;
  const text = hunks.map((hunk) => {
    const body = hunkLines(hunk, lines, open);
    const before = hunk.to - hunk.from;
    const here = hunk.insertions.reduce((sum, each) => sum + each.lines.length, 0);
    const start = before === 0 ? hunk.from : hunk.from + 1;
    const head = `@@ -${start},${before} +${hunk.from + added + 1},${before + here} @@`;
    added += here;
    return [head, ...body].join('\n');
  });
  return `--- ${file}\n+++ ${file}\n${text.join('\n')}\n`;
}

function joinSame(sorted: readonly Insertion[]): Insertion[] {
  const joined: Insertion[] = [];
  for (const each of sorted) {
    const last = joined.at(-1);
    if (last?.after === each.after) {
      joined[joined.length - 1] = { after: each.after, lines: [...last.lines, ...each.lines] };
    } else joined.push(each);
  }
  return joined;
}

function hunksOf(insertions: readonly Insertion[], total: number): Hunk[] {
  const hunks: Hunk[] = [];
  for (const each of insertions) {
    const from = Math.max(0, each.after - contextLines);
    const to = Math.min(total, each.after + contextLines);
    const last = hunks.at(-1);
    if (last !== undefined && from <= last.to) {
      hunks[hunks.length - 1] = { from: last.from, to, insertions: [...last.insertions, each] };
    } else hunks.push({ from, to, insertions: [each] });
  }
  return hunks;
}

const noNewline = '\\ No newline at end of file';

function hunkLines(
  { from, to, insertions }: Hunk,
  lines: readonly string[],
  open: boolean,
): string[] {
  const body: string[] = [];
  const insert = (after: number) => {
    for (const each of insertions) {
      if (each.after === after) body.push(...each.lines.map((line) => `+${line}`));
    }
  };
  insert(from === 0 ? 0 : -1);
  for (let at = from; at < to; at += 1) {
    const isLast = open && at === lines.length - 1;
    const line = lines[at] ?? '';
    const follows = insertions.some(({ after }) => after === at + 1);
    // A last line without its end gets one, or what is added would be glued to it.
    if (isLast && follows) body.push(`-${line}`, noNewline, `+${line}`);
    else body.push(` ${line}`, ...(isLast ? [noNewline] : []));
    insert(at + 1);
  }
  return body;
}
