import { createHmac } from 'node:crypto';
import { isIP } from 'node:net';

/** Gives a text back with everything replaced that identifies a site. */
export type Hide = (text: string) => string;

/** What a hidden value was, said in its pseudonym. */
export type HiddenKind = string;

/** Names longer than so many words are looked for in their whole only. */
const nameWordsMax = 16;

/**
 * Digits of a pseudonym. Names have many, so that two stay two. Addresses have few on purpose:
 * there are so few addresses that a longer one could be found by trying them all.
 */
const nameDigits = 8;
const addressDigits = 4;

/** A pseudonym of `value`: the same for the same value within one site. */
export function pseudonym(site: string, kind: HiddenKind, value: string): string {
  const digits = kind === 'address' || kind === 'mac' ? addressDigits : nameDigits;
  const digest = createHmac('sha256', `hopgauge:${site}`).update(value.toLowerCase());
  return `${kind}-${digest.digest('hex').slice(0, digits)}`;
}

interface Shape {
  readonly kind: HiddenKind;
  readonly pattern: RegExp;
  readonly accept?: (text: string) => boolean;
}

/** Values that are known by their shape, in the order in which they are looked for. */
const shapes: readonly Shape[] = [
  { kind: 'key', pattern: /\b(?:SHA256|MD5):[A-Za-z0-9+/=:]{16,}/g },
  { kind: 'mac', pattern: /(?<![\w:-])[0-9a-f]{2}(?:[:-][0-9a-f]{2}){5,7}(?![\w:-])/gi },
  { kind: 'mac', pattern: /(?<![\w.])[0-9a-f]{4}\.[0-9a-f]{4}\.[0-9a-f]{4}(?![\w.])/gi },
  { kind: 'port', pattern: /\benx[0-9a-f]{12}\b/gi },
  {
    kind: 'address',
    pattern: /(?<![\w:])[0-9a-f:]*:[0-9a-f]*:[0-9a-f:]*(?:\d{1,3}(?:\.\d{1,3}){3})?(?:%\w+)?/gi,
    accept: (text) => /[0-9a-f]/i.test(text) && isIP(text) === 6,
  },
  {
    kind: 'address',
    pattern: /(?<![\w.])\d{1,3}(?:\.\d{1,3}){3}(?![\w]|\.\d)/g,
    accept: (text) => isIP(text) === 4,
  },
  { kind: 'file', pattern: /(?<![\w.~/])~?(?:\/[\w.@+-]+){2,}/g },
  {
    kind: 'host',
    pattern: /(?<![\w.-])[a-z0-9-]+(?:\.[a-z0-9-]+)+\.[a-z]{2,}(?![\w-])/gi,
    accept: (text) => !text.toLowerCase().endsWith('.yaml'),
  },
  {
    kind: 'id',
    pattern: /\b(?=[A-Z0-9]*\d[A-Z0-9]*\d)(?=[A-Z0-9]*[A-Z])[A-Z0-9]{8,}\b/g,
    accept: (text) => !/^\d+G?BASE/.test(text),
  },
  { kind: 'id', pattern: /\b(?:0x)?[0-9a-f]{12,}\b/gi },
];

/**
 * Hides the `names` (text to kind) wherever they stand as words of their own, and whatever has
 * the shape of an address, a MAC address, a fingerprint, a file, a host name or a serial number.
 */
export function hideFor(site: string, names: ReadonlyMap<string, HiddenKind>): Hide {
  const known = new Map<string, HiddenKind>();
  let wordsMax = 1;
  for (const [name, kind] of names) {
    const key = name.toLowerCase();
    if (!known.has(key)) known.set(key, kind);
    wordsMax = Math.max(wordsMax, Math.min(nameWordsMax, wordsOf(name).length));
  }
  const cache = new Map<string, string>();
  return (text) => {
    const before = cache.get(text);
    if (before !== undefined) return before;
    const kind = known.get(text.toLowerCase());
    const hidden =
      kind === undefined
        ? hideShapes(site, text, (rest) => hideNames(rest, { site, known, wordsMax }))
        : pseudonym(site, kind, text);
    if (cache.size < cacheMax) cache.set(text, hidden);
    return hidden;
  };
}

const cacheMax = 100_000;

function hideShapes(site: string, text: string, hideRest: Hide, from = 0): string {
  for (let at = from; at < shapes.length; at += 1) {
    const shape = shapes[at];
    if (shape === undefined) break;
    const found = [...text.matchAll(shape.pattern)].filter(
      ([match]) => shape.accept === undefined || shape.accept(match),
    );
    if (found.length === 0) continue;
    let hidden = '';
    let done = 0;
    for (const match of found) {
      hidden += hideShapes(site, text.slice(done, match.index), hideRest, at + 1);
      hidden += pseudonym(site, shape.kind, match[0]);
      done = match.index + match[0].length;
    }
    return hidden + hideShapes(site, text.slice(done), hideRest, at + 1);
  }
  return hideRest(text);
}

/** Words and what stands between them, taking turns; a word comes first. */
function wordsOf(text: string): string[] {
  return text.split(/([^\p{L}\p{N}\p{M}]+)/u);
}

interface Known {
  readonly site: string;
  readonly known: ReadonlyMap<string, HiddenKind>;
  readonly wordsMax: number;
}

function hideNames(text: string, { site, known, wordsMax }: Known): string {
  const parts = wordsOf(text);
  let hidden = '';
  let at = 0;
  while (at < parts.length) {
    const long = longestName(parts, at, { site, known, wordsMax });
    if (long === undefined) {
      hidden += parts[at] ?? '';
      at += 1;
      continue;
    }
    hidden += pseudonym(site, long.kind, long.name);
    at = long.end;
  }
  return hidden;
}

function longestName(
  parts: readonly string[],
  from: number,
  { known, wordsMax }: Known,
): { name: string; kind: HiddenKind; end: number } | undefined {
  for (let end = Math.min(parts.length, from + wordsMax + 2); end > from; end -= 1) {
    const name = parts.slice(from, end).join('');
    const kind = name === '' ? undefined : known.get(name.toLowerCase());
    if (kind !== undefined) return { name, kind, end };
  }
  return undefined;
}
