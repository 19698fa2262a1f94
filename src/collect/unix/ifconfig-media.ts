import { decimalNumber, firstGroup, present } from './text.ts';

/** What the words after `media:` say. */
export interface Media {
  /** Absent where no number is named, as in `autoselect <full-duplex>`. */
  readonly speedMbps?: number;
  readonly duplex?: 'full' | 'half';
  /** Absent where the words name no medium at all, as `<unknown type>`. */
  readonly autoNegotiation?: boolean;
  /** There is no medium: the link is down. */
  readonly none: boolean;
}

const mediaLengthMax = 256;

/**
 * Reads the words after `media:`. The medium in use stands in parentheses only where it differs
 * from the one that is set, so a fixed `1000baseT <full-duplex>` has none.
 */
export function parseMedia(text: string): Media {
  if (text.length > mediaLengthMax) return { none: false };
  const plain = text.replace(/^Ethernet (?=\S)/, '');
  const [, set = plain, inner] = /^(.*?) \((.*)\)$/.exec(plain) ?? [];
  const active = inner ?? set;
  const options = mediaOptions(active);
  const duplex = options.has('full-duplex')
    ? 'full'
    : options.has('half-duplex')
      ? 'half'
      : undefined;
  return present<Media>({
    speedMbps: speedOf(active),
    duplex,
    autoNegotiation: /^autoselect\b/i.test(set)
      ? true
      : speedOf(set) === undefined
        ? undefined
        : false,
    none: /^none\b/i.test(active),
  });
}

/** Mb/s of `10baseT/UTP`, `100baseTX`, `2500Base-T`, `10GbaseT`, `10Gbase-T`. */
function speedOf(active: string): number | undefined {
  const [, number, giga] = /^(\d{1,6}(?:\.\d)?)(G?)base/i.exec(active) ?? [];
  const value = decimalNumber(number);
  if (value === undefined || value === 0) return undefined;
  return giga === '' ? value : value * 1000;
}

/** The medium in use: in parentheses where it differs from the one that is set. */
export function activeMedium(media: string): string {
  const plain = media.slice(0, mediaLengthMax).replace(/^Ethernet (?=\S)/, '');
  return / \(([^()]{1,128})\)$/.exec(plain)?.[1] ?? plain;
}

/** What stands between the angle brackets of a medium: `full-duplex`, `rxpause`, `flow-control`. */
export function mediaOptions(medium: string): ReadonlySet<string> {
  return new Set((firstGroup(medium, /<([^>]*)>/) ?? '').split(/[,\s]+/));
}
