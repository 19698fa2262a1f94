import type { Draft } from '../draft/types.ts';

/** What is said of a draft that was written to `out`, or printed. */
export function draftTold(made: Draft, notes: readonly string[], out?: string): readonly string[] {
  const asked = made.questions.length + inLines(made).length;
  const then = `hopgauge audit ${out ?? 'FILE'}`;
  return [
    `${readWords(made)}; ${linkWords(made)}, ${things(made)} drafted`,
    ...made.notRead,
    ...notes,
    asked === 0
      ? `read it through, then: ${then}`
      : `${number(asked, 'question stands', 'questions stand')} in it as lines with '?'; answer them, then: ${then}`,
  ];
}

/**
 * What is said of a patch to the intent `file`. The questions that belong to no line of the patch
 * stand nowhere else.
 */
export function patchTold(
  { lacks, differences }: { readonly lacks: Draft; readonly differences: readonly string[] },
  notes: readonly string[],
  file: string,
): readonly string[] {
  const { nodes, segments, links, paths } = lacks;
  const nothing = [nodes, segments, links, paths].every(({ length }) => length === 0);
  return [
    `${readWords(lacks)}; ${file} lacks ${number(links.length, 'link')}, ${things(lacks)}`,
    ...notes,
    ...differences,
    ...lacks.questions.map((question) => `? ${question}`),
    nothing
      ? `nothing to add to ${file}`
      : `apply the patch with: patch -p0; then: hopgauge audit ${file}`,
  ];
}

function inLines({ segments, links }: Draft): readonly string[] {
  return [...segments, ...links].flatMap(({ questions }) => questions);
}

function readWords({ counts, notRead }: Draft): string {
  return `${number(counts.read, 'node')} read, ${notRead.length} not`;
}

function linkWords({ counts, links }: Draft): string {
  const how = `${counts.linksByLldp} known by LLDP, ${counts.linksByForwarding} by forwarding tables`;
  return `${number(links.length, 'link')} (${how})`;
}

function things({ nodes, segments }: Draft): string {
  return `${number(nodes.length, 'node')} and ${number(segments.length, 'segment')}`;
}

function number(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}
