/** What is kept of a finding, as far as a short line of it needs. */
interface Kept {
  readonly verdict: string;
  readonly what: string;
  readonly cause: string;
}

/** The first sentence of what is wrong: the effects that follow were told when it was new. */
export function gist(what: string): string {
  return /^.*?[^.](?=\. )/s.exec(what)?.[0] ?? what;
}

/** The node that could not be read, where that is why a finding could not be judged. */
export function unreadNode({ verdict, cause }: Kept): string | undefined {
  const prefix = 'node ';
  return verdict === 'undetermined' && cause.startsWith(prefix)
    ? cause.slice(prefix.length)
    : undefined;
}

/** Of findings of one cause the one that speaks for all: what is broken, and of a path first. */
export function leadOf<T extends Kept>(
  group: readonly T[],
  isOfPath: (each: T) => boolean,
): T | undefined {
  const weight = (each: T) => Number(each.verdict === 'undetermined') * 2 + Number(!isOfPath(each));
  return group.toSorted((a, b) => weight(a) - weight(b))[0];
}
