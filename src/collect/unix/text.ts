/** An unsigned decimal number that a pattern has accepted; undefined for anything else. */
export function wholeNumber(text: string | undefined): number | undefined {
  if (text === undefined || !/^\d{1,16}$/.test(text)) return undefined;
  const value = Number(text);
  return Number.isSafeInteger(value) ? value : undefined;
}

/** A decimal number such as `12.5`; undefined for anything else. */
export function decimalNumber(text: string | undefined): number | undefined {
  if (text === undefined || !/^\d{1,12}(?:\.\d{1,6})?$/.test(text)) return undefined;
  return Number(text);
}

/** The first group of `pattern` in `text`; undefined where it does not match. */
export function firstGroup(text: string, pattern: RegExp): string | undefined {
  return pattern.exec(text)?.[1];
}

/** Longest line of text that is read; JSON apart, no command prints longer ones. */
export const lineLengthMax = 4096;

/** Lines that are neither blank nor longer than any command prints. */
export function textLines(text: string): string[] {
  return text.split('\n').filter((line) => line.length <= lineLengthMax && line.trim() !== '');
}

/** Words between blanks. */
export function words(text: string): string[] {
  return text.split(/\s+/).filter((word) => word !== '');
}

/** A MAC address in lower case with colons; undefined for all zeros and for anything else. */
export function macText(text: string | undefined): string | undefined {
  if (text === undefined || !/^[0-9a-f]{2}(?::[0-9a-f]{2}){5}$/i.test(text)) return undefined;
  const mac = text.toLowerCase();
  return mac === '00:00:00:00:00:00' ? undefined : mac;
}

/** Largest number that an interface may call its MTU: the kernels keep it in 31 bits. */
const mtuBytesMax = 2 ** 31 - 1;

/** An MTU in bytes; undefined for 0, which systems use for "not limited" and "not known". */
export function mtuNumber(value: number | undefined): number | undefined {
  return value !== undefined && value > 0 && value <= mtuBytesMax ? value : undefined;
}

/** Leaves out what is undefined, so that an absent value has no key. */
export function present<T extends object>(
  value: {
    [K in keyof T]: T[K] | undefined;
  },
): T {
  const entries = Object.entries(value).filter(([, item]) => item !== undefined);
  return Object.fromEntries(entries) as T;
}

/** The entry of a table; undefined for a word that is none of its own, such as `constructor`. */
export function entryOf<T>(table: Readonly<Record<string, T>>, word: string): T | undefined {
  return Object.hasOwn(table, word) ? table[word] : undefined;
}
