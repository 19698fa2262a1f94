import { macText, wholeNumber } from '../unix/text.ts';

/** A flag of JSON; undefined for anything else. */
export function flagOf(value: unknown): boolean | undefined {
  return typeof value === 'boolean' ? value : undefined;
}

/** Mb/s of bits per second; undefined for 0, below 1 Mb/s and the numbers that mean "not known". */
export function mbpsOf(value: unknown): number | undefined {
  if (typeof value !== 'number' || !Number.isSafeInteger(value)) return undefined;
  const mbps = value / 1_000_000;
  return mbps >= 1 && mbps <= mbpsMax ? mbps : undefined;
}

/** Beyond 1.6 Tb/s IEEE 802.3 has nothing; 2^63 and 2^64 bits per second mean "not known". */
const mbpsMax = 1_600_000;

/** A MAC address written `02-00-5E-00-00-05` or `02005E000005`. */
export function windowsMac(value: unknown): string | undefined {
  if (typeof value !== 'string' || value.length > 32) return undefined;
  const digits = value.replaceAll(/[-:]/g, '');
  return /^[0-9A-F]{12}$/i.test(digits) ? macText(digits.match(/../g)?.join(':')) : undefined;
}

/** Whole numbers as the registry keeps them: text, or a number. */
export function registryNumber(value: unknown): number | undefined {
  if (typeof value === 'number')
    return Number.isSafeInteger(value) && value >= 0 ? value : undefined;
  return typeof value === 'string' ? wholeNumber(value.trim()) : undefined;
}
