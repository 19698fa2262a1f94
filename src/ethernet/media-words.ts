import type { Duplex, LineReading, LinkMode, Medium, OfferedModes } from './link-mode.ts';
import { linkModes } from './link-modes.ts';
import { phyOf } from './phy.ts';

const wordsLengthMax = 256;
const listMax = 256;

/** Cables that `ifconfig` names by their make-up; the same word names several PHYs. */
const cables: Readonly<Record<string, Medium>> = { AOC: 'fibre', ACC: 'direct-attach' };
/** Spellings of a suffix that IEEE 802.3 writes otherwise. */
const suffixes: Readonly<Record<string, string>> = {
  'T/UTP': 'T',
  TWINAX: 'CR',
  'TWINAX-LONG': 'CR',
  CR1: 'CR',
  KR1: 'KR',
};

/**
 * Reads one medium as `ifconfig` of macOS and FreeBSD words it: `10Gbase-T <full-duplex>`,
 * `2500Base-T`, `100baseTX full-duplex flow-control`, `10baseT/UTP`. The duplex is absent where no
 * option says it and the speed allows both. Undefined for words that name no PHY and no cable,
 * such as `autoselect`, `none`, `1000Base-SGMII` and `<unknown type>`.
 */
export function parseMediaWords(text: string): LineReading | undefined {
  if (text.length > wordsLengthMax) return undefined;
  const [, number = '', giga = '', suffix = '', options = ''] =
    /^([1-9]\d{1,5})(G?)base-?([a-z][\w/-]{0,15})(?: +<?([^<>]*)>?)?$/i.exec(text.trim()) ?? [];
  if (number === '') return undefined;
  const line = lineOf(Number(number) * (giga === '' ? 1 : 1000), suffix.toUpperCase());
  const said = duplexOf(options);
  if (line === undefined || said === 'both') return undefined;
  const { duplexes, ...rest } = line;
  const duplex = said ?? (duplexes.length === 1 ? duplexes[0] : undefined);
  if (duplex === undefined) return rest;
  return duplexes.includes(duplex) ? { ...rest, duplex } : undefined;
}

/**
 * Reads a list of `supported media`. Words without a duplex are dropped where the list has the
 * same PHY with one, as drivers print both, and are kept aside where it has not.
 */
export function parseMediaList(list: readonly string[]): OfferedModes {
  const read = list.slice(0, listMax).map((words) => ({ words, line: parseMediaWords(words) }));
  const modes = linkModes(read.flatMap(({ line }) => (isMode(line) ? line : [])));
  const told = new Set(modes.map(({ phy }) => phy));
  const unread = read.filter(
    ({ line }) => line === undefined || (!isMode(line) && !told.has(line.phy)),
  );
  return {
    modes,
    aside: [...unread.map(({ words }) => words), ...list.slice(listMax)],
    silentMbps: [],
  };
}

type Line = Omit<LinkMode, 'duplex'> & { readonly duplexes: readonly Duplex[] };

function lineOf(speedMbps: number, word: string): Line | undefined {
  const cable = cables[word];
  if (cable !== undefined)
    return speedMbps >= 10_000 ? { speedMbps, medium: cable, duplexes: ['full'] } : undefined;
  const plain = word.replace(/-PAM4$/, '');
  const suffix = plain === 'T' && speedMbps === 100 ? 'TX' : (suffixes[plain] ?? plain);
  return phyOf(speedMbps, suffix);
}

function duplexOf(options: string): Duplex | 'both' | undefined {
  const words = options.split(/[,\s]+/);
  const full = words.includes('full-duplex');
  const half = words.includes('half-duplex');
  if (full && half) return 'both';
  return full ? 'full' : half ? 'half' : undefined;
}

function isMode(line: LineReading | undefined): line is LinkMode {
  return line?.duplex !== undefined;
}
