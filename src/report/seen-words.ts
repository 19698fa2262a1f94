import { type Place, sourceOf } from '../facts/subject.ts';
import type { Evidence, Finding } from '../judge/types.ts';
import { accountingKind } from '../site/port-kind.ts';
import type { Site, SitePort } from '../site/types.ts';
import { factWords, gapWords, originOf, placeWords, valueWords } from './fact-words.ts';
import { clean } from './layout.ts';
import { siteFinder } from './site-finder.ts';

const evidenceShownMax = 4;
/** From this length on, a list that stands in the title is not said again. */
const saidOnceColumns = 60;

/**
 * What was seen, with its source, against what is declared, with its line in the intent:
 * `MTU 1500 bytes (IF-MIB ifMtu); declared MTU 9000 bytes (hopgauge.yaml:24)`.
 */
export function seenWords(finding: Finding, site: Site, verbose: boolean): string {
  const { evidence, declaredAt } = finding;
  const raw = rawReading(finding, site);
  const seen = preferRead(evidence.filter((each) => !isDeclared(each)));
  // The raw reading says all that the facts derived from it say.
  const rest = raw.length > 0 && !verbose ? seen.filter(isRead) : seen;
  const stated = evidence.filter(isDeclared);
  const news = rest.filter((each) => verbose || !isSaid(each, finding));
  const parts = [
    ...raw,
    ...shorten(news.map(evidenceWords), verbose ? news.length : evidenceShownMax),
    declaredWords(
      stated.length === 0 && raw.length > 0 ? demand(finding, site) : stated,
      declaredAt,
    ),
  ];
  return parts.filter((text) => text !== '').join('; ');
}

/** A long list that the title has said in full already. */
function isSaid({ value }: Evidence, { what }: Finding): boolean {
  if (typeof value !== 'object') return false;
  const text = value.map(String).join(', ');
  return text.length >= saidOnceColumns && what.includes(text);
}

/** What a path or port is to carry, where a rule looked at the outcome alone. */
function demand(finding: Finding, site: Site): readonly Evidence[] {
  const { subject } = finding;
  const find = siteFinder(site);
  const part =
    subject.kind === 'path' ? find.path : subject.kind === 'port' ? find.port : undefined;
  const own = part?.(subject.id)?.subject;
  const [name, unit] = isOfGoodput(finding)
    ? ['declaredGoodputMbps', 'Mb/s']
    : ['declaredMtuBytes', 'bytes'];
  const value = own?.facts[name];
  return value === undefined ? [] : [{ fact: `${subject.kind}.${name}`, value, unit }];
}

function declaredWords(declared: readonly Evidence[], place: Place | undefined): string {
  if (place === undefined) return declared.map(evidenceWords).join(', ');
  if (declared.length === 0) return `declared at ${placeWords(place)}`;
  return `${declared.map(evidenceWords).join(', ')} (${placeWords(place)})`;
}

function isDeclared({ fact }: Evidence): boolean {
  const name = fact.slice(fact.indexOf('.') + 1);
  return originOf(fact) === 'declared' || name.startsWith('declared');
}

function isRead({ fact }: Evidence): boolean {
  return originOf(fact) === 'read';
}

/** Readings say more than what was derived from them; without any, the derived ones must do. */
function preferRead(evidence: readonly Evidence[]): readonly Evidence[] {
  const read = evidence.filter(isRead);
  return read.length > 0 ? read : evidence;
}

function shorten(parts: readonly string[], most: number): string[] {
  if (parts.length <= most) return [...parts];
  return [...parts.slice(0, most), `and ${parts.length - most} more facts`];
}

function evidenceWords({ fact, value, gap, unit, source }: Evidence): string {
  if (value !== undefined) {
    const from = source === undefined || originOf(fact) !== 'read' ? '' : ` (${clean(source)})`;
    const mark = typeof value === 'boolean' ? ':' : '';
    return `${factWords(fact)}${mark} ${valueWords(value, unit)}${from}`;
  }
  if (gap === undefined) return `${factWords(fact)} not known`;
  const words = clean(gap.words);
  return `${factWords(fact)} not known: ${words === '' ? gapWords[gap.reason] : words}`;
}

const clearanceFacts = /^port\.(carriesDeclaredMtu|passesAt(Least|Most)Bytes)$/;

function isOfGoodput({ evidence }: Finding): boolean {
  return evidence.some(({ fact }) => fact === 'path.goodputInReach');
}

/** The raw reading behind the clearance of a path or a port, and how it was counted. */
function rawReading(finding: Finding, site: Site): string[] {
  const { kind, id } = finding.subject;
  if (kind === 'port' && finding.evidence.some(({ fact }) => clearanceFacts.test(fact))) {
    if (finding.evidence.some(({ fact }) => fact === 'port.mtuBytes')) return [];
    const port = siteFinder(site).port(id);
    return port === undefined ? [] : rawMtuWords(port, site);
  }
  if (kind !== 'path') return [];
  const named = finding.evidence.find(({ fact }) => fact === 'path.narrowestPort')?.value;
  const path = siteFinder(site).path(id);
  if (isOfGoodput(finding) && path?.subject.facts['goodputLacks'] !== 'packet')
    return rawSpeedWords(path?.hops.find(({ slowest }) => slowest)?.port);
  const hop = path?.hops.find(({ port, narrowest }) =>
    named === undefined ? narrowest : port.id === named,
  );
  return hop === undefined ? [] : rawMtuWords(hop.port, site);
}

/** `plot-1:en7 speed 1000 Mb/s (ethtool Speed)`; empty: not read. */
function rawSpeedWords(port: SitePort | undefined): string[] {
  const value = port?.subject.facts['speedMbps'];
  if (port === undefined || value === undefined) return [];
  const source = sourceOf(port.subject, 'speedMbps');
  const read = { fact: 'port.speedMbps', value, unit: 'Mb/s' };
  return [`${clean(port.id)} ${evidenceWords(source === undefined ? read : { ...read, source })}`];
}

/** `quay-sw:xg3 MTU 1500 bytes (IF-MIB ifMtu), what it counts not declared`; empty: not read. */
export function rawMtuWords(port: SitePort, site: Site): string[] {
  const { mtuBytes } = port.subject.facts;
  if (typeof mtuBytes !== 'number') return [];
  const source = sourceOf(port.subject, 'mtuBytes');
  const node = siteFinder(site).node(port.node)?.declared;
  const counts = node?.mtuCounts[accountingKind(port.survey?.facts ?? {})];
  const counted =
    counts !== undefined
      ? `, counted as ${counts}`
      : node?.role === 'switch'
        ? ', what it counts not declared'
        : '';
  const from = source === undefined ? '' : ` (${clean(source)})`;
  return [`${clean(port.id)} MTU ${mtuBytes} bytes${from}${counted}`];
}
