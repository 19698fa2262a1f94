import { inflateRawSync } from 'node:zlib';
import { parseJson } from '../../../src/facts/json.ts';

/** What a page carries packed, as its script would unpack it. */
export interface Unpacked {
  readonly facts: Readonly<
    Record<
      string,
      readonly {
        readonly fact: string;
        readonly meaning: string;
        readonly cells: readonly string[];
        readonly steps: readonly number[];
      }[]
    >
  >;
  readonly later: Readonly<Record<string, string>>;
}

/** The packed data of a page. Throws when it has none. */
export function unpack(page: string): Unpacked {
  const [, packed] = /id="packed">([A-Za-z0-9+/=]*)<\/script>/.exec(page) ?? [];
  if (packed === undefined) throw new Error('the page has no packed data');
  return parseJson(inflateRawSync(Buffer.from(packed, 'base64')).toString()) as Unpacked;
}

/** The facts of one row as the script shows them: `fact: =value` or `fact: ?why`, with sources. */
export function factsAt(page: Unpacked, table: string, row: number): readonly string[] {
  return (page.facts[table] ?? []).flatMap(({ fact, cells, steps }) => {
    const at = steps.slice(0, row + 1).reduce((sum, step) => sum + step, 0);
    const cell = cells[at] ?? '';
    return cell === '' ? [] : [`${fact}: ${cell.replace('\t', ' | ')}`];
  });
}

/**
 * A page to be compared by eye: an element a line, what is packed as JSON. The texts of style and
 * script are left out; the digests of both stand in the policy, so that no change of them is lost.
 * Fingerprints are left out: the simulated hosts make new keys each time.
 */
export function legiblePage(page: string): string {
  const { facts, later } = unpack(page);
  const columns = Object.entries(facts).flatMap(([table, all]) =>
    all.map((column) => `${table} ${JSON.stringify(column)}`),
  );
  const shut = Object.entries(later).map(([id, text]) => `${id} ${text}`);
  const shown = page
    .replace(/<style>.*?<\/style>/s, '<style></style>')
    .replace(/<script>.*?<\/script>/s, '<script></script>')
    .replace(/(id="packed">)[A-Za-z0-9+/=]*/, '$1');
  const lines = [...[shown, ...shut].join('\n').replaceAll('><', '>\n<').split('\n'), ...columns];
  return `${lines.join('\n')}\n`.replaceAll(/SHA256:[\w+/]{43}/g, 'SHA256:(fingerprint)');
}
