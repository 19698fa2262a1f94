import type { TransferProof } from '../facts/proof.ts';
import type { SiteDirection, SitePath } from '../site/types.ts';
import { speedWords } from './fact-words.ts';
import { clean } from './layout.ts';

/** What a transfer has brought over: `9.41 Gb/s of TCP payload for 10 s`. */
export function transferWords({ goodputMbps, tookSeconds, streams }: TransferProof): string {
  const many = streams === 1 ? '' : ` over ${streams} streams`;
  return `${goodputWords(goodputMbps)} of TCP payload for ${Math.round(tookSeconds)} s${many}`;
}

/** What tests that still count have shown of both directions of a path, a line each. */
export function provenLines(path: SitePath, directions: readonly SiteDirection[]): string[] {
  const own = directions.filter((direction) => direction.path === path.id);
  const fits = own.flatMap(({ from, to, subject: { facts } }) => {
    const says = facts['proofSays'];
    return typeof says === 'string' ? [{ words: says, way: `${from} to ${to}` }] : [];
  });
  const [first, second] = fits;
  const alike = first !== undefined && first.words === second?.words;
  const told = alike ? [{ words: first.words, way: `${path.from} to ${path.to} and back` }] : fits;
  return [
    ...told.map(({ words, way }) => clean(`tried ${way}, ${words}`)),
    ...own.flatMap(measuredLine),
  ];
}

function measuredLine({ from, to, subject: { facts } }: SiteDirection): string[] {
  const { measuredGoodputMbps: mbps, measuredOn: on } = facts;
  if (typeof mbps !== 'number' || typeof on !== 'string') return [];
  return [clean(`measured ${from} to ${to}, ${on}: ${goodputWords(mbps)} of TCP payload`)];
}

/** Three figures: no transfer of some seconds tells more. */
function goodputWords(mbps: number): string {
  return speedWords(Number(mbps.toPrecision(3)));
}
