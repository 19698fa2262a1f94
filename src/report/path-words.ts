import type { Finding } from '../judge/types.ts';
import { breakOf, type PathBreak } from '../site/path-breaks.ts';
import type { SitePath } from '../site/types.ts';
import { placeWords, speedWords } from './fact-words.ts';
import { clean } from './layout.ts';

/** The heading of a path: its name, ends and where it is declared. */
export function pathHeading({ declared, from, to }: SitePath): string {
  const over = declared.over.length === 0 ? '' : ` over ${declared.over.join(' and ')}`;
  return clean(`${declared.name}: ${from} to ${to}${over} (${placeWords(declared.place)})`);
}

/** What passes the whole path, in words, and what its speed allows. */
export function pathVerdict(path: SitePath): string {
  const { facts } = path.subject;
  if (facts['connected'] === false) return 'the declared links do not join its ends';
  const down = breakOf(path, ({ port }) => port.subject.facts['operUp'] === false);
  const moved = breakOf(path, ({ port }) => port.subject.facts['neighbourDeclared'] === false);
  if (down?.spare === false) {
    return `no link at ${named(down)}; were it up: ${clearedWords(path)}`;
  }
  if (moved?.spare === false) {
    return `another cord is plugged in at ${named(moved)}; were it as declared: ${clearedWords(path)}`;
  }
  return [
    clearedWords(path),
    ceilingWords(path),
    down === undefined ? '' : `no link at ${named(down)}, which it can do without`,
    moved === undefined
      ? ''
      : `another cord is plugged in at ${named(moved)}, which it can do without`,
  ]
    .filter((text) => text !== '')
    .join('; ');
}

function named({ ports }: PathBreak): string {
  return ports.map(clean).join(', ');
}

function clearedWords(path: SitePath): string {
  const { facts } = path.subject;
  const { declaredMtuBytes: declared, mtuAtMostBytes: most, mtuAtLeastBytes: least } = facts;
  if (declared === undefined) {
    if (most === undefined) return 'what passes is not known, and no MTU is declared';
    const atLeast = least === undefined ? '' : ` and at least ${least}`;
    return `at most ${most}${atLeast} bytes pass; no MTU is declared`;
  }
  const { carriesDeclaredMtu } = facts;
  if (carriesDeclaredMtu === true) {
    return isDeclaredBetween(path)
      ? `the declared ${declared} bytes pass every hop`
      : `the declared ${declared} bytes pass both ends; what lies between is not declared, and hopgauge fit can try it`;
  }
  if (carriesDeclaredMtu === false) {
    const where = typeof facts['narrowestPort'] === 'string' ? facts['narrowestPort'] : 'one hop';
    return `only ${most ?? 'less'} of the declared ${declared} bytes pass at ${clean(where)}`;
  }
  const unknown = facts['hopsUnknown'];
  const hops = Array.isArray(unknown) && unknown.length > 0 ? unknown.map(String) : [];
  const named = hops.length === 0 ? '' : `: ${hops.map(clean).join(', ')} not known`;
  return `whether the declared ${declared} bytes pass is not known${named}`;
}

/** Whether the intent says anything of what lies between the ends of a path. */
export function isDeclaredBetween({ hops, from, to }: SitePath): boolean {
  return from === to || hops.some(({ linkId }) => linkId !== undefined);
}

function ceilingWords({ subject: { facts } }: SitePath): string {
  const { ceilingMbps } = facts;
  if (typeof ceilingMbps !== 'number') return '';
  // Rounded down: a ceiling must not be said to be higher than it is.
  const step = ceilingMbps >= 1000 ? 10 : 1;
  return `one TCP flow can reach ${speedWords(Math.floor(ceilingMbps / step) * step)}`;
}

/**
 * What a small hop breaks, per direction; empty where nothing is known to break, or where a
 * finding says it already.
 */
export function effectLines({ subject }: SitePath, findings: readonly Finding[]): string[] {
  const effects = subject.facts['effects'];
  if (typeof effects !== 'string' || findings.some(({ what }) => what.includes(effects))) return [];
  return [clean(effects)];
}
