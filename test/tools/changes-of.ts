/** One version of the list of changes. */
export interface Release {
  readonly version: string;
  /** As 2026-11-26. */
  readonly date: string;
  readonly text: string;
}

/** The versions of CHANGELOG.md, in its order; their headings are `## 0.1.0 (2026-11-26)`. */
export function changesOf(markdown: string): readonly Release[] {
  return markdown
    .split(/^## /m)
    .slice(1)
    .map((part) => {
      const [, version = '', date = ''] =
        /^(\d+\.\d+\.\d+) \((\d{4}-\d{2}-\d{2})\)\n/.exec(part) ?? [];
      if (version === '')
        throw new Error(`CHANGELOG.md: not a heading of a version: ## ${part.slice(0, 40)}`);
      return { version, date, text: part.slice(part.indexOf('\n')).trim() };
    });
}
