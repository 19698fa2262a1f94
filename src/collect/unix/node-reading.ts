import type { Gap, Gaps } from '../../facts/gap.ts';
import type { NodeReadFacts } from '../../facts/node-facts.ts';
import { cleaned, foundOr, gap, type Settled } from './draft.ts';
import { type Framed, sectionKey } from './frames.ts';
import { missing, refusal } from './linux-evidence.ts';
import { parseServiceOrder } from './networksetup.ts';
import { firstGroup, wholeNumber } from './text.ts';

/** Facts of the node with sources and gaps. */
export interface NodePart {
  readonly facts: NodeReadFacts;
  readonly sources: Readonly<Record<string, string>>;
  readonly gaps: Gaps;
}

type NodeDraft = Readonly<Record<string, Settled<string | number | readonly string[]>>>;

/** Systems that the script reads. */
export type UnixKind = 'linux' | 'macos' | 'freebsd';

const kinds: ReadonlyMap<string, UnixKind> = new Map([
  ['Linux', 'linux'],
  ['Darwin', 'macos'],
  ['FreeBSD', 'freebsd'],
]);

/** What `uname -s` says, as the fact `systemKind` spells it; undefined for any other. */
export function systemKindOf(framed: Framed): UnixKind | undefined {
  const said = framed.sections.get(sectionKey('system'))?.output.trim();
  return said === undefined ? undefined : kinds.get(said);
}

/** Reads the sections about the node itself. */
export function nodeFactsOf(framed: Framed): NodePart {
  const system = systemKindOf(framed);
  const name = framed.sections.get(sectionKey('name'))?.output;
  const text = framed.sections.get(sectionKey('text'))?.output;
  const draft: NodeDraft = {
    systemKind: foundOr(system, 'uname -s', missing(framed, 'not asked')),
    systemName: foundOr(cleaned(name), 'uname -n', missing(framed, 'no name was printed')),
    systemText: foundOr(cleaned(text), 'uname -srm', missing(framed, 'no text was printed')),
    ...ownFacts[system ?? 'linux'](framed),
  };
  return partOf(draft);
}

function linuxFacts(framed: Framed): NodeDraft {
  const release = section(framed, 'os-release', (output) =>
    cleaned(firstGroup(output, /^VERSION_ID=["']?([^"'\n]+?)["']?$/m)),
  );
  const uptime = section(framed, 'uptime', (output) =>
    wholeNumber(firstGroup(output, /^(\d+)\.\d+ \d+\.\d+$/)),
  );
  return {
    osVersion: foundOr(release.value, '/etc/os-release VERSION_ID', release.gap),
    uptimeSeconds: foundOr(uptime.value, '/proc/uptime', uptime.gap),
  };
}

function macosFacts(framed: Framed): NodeDraft {
  const version = section(framed, 'sw-vers', (output) =>
    cleaned(firstGroup(output, /^ProductVersion:[ \t]+(\S+)$/m)),
  );
  const order = section(framed, 'service-order', (output) => {
    const devices = parseServiceOrder(output).flatMap((name) => cleaned(name) ?? []);
    return devices.length === 0 ? undefined : devices;
  });
  return {
    serviceOrder: foundOr(order.value, 'networksetup -listnetworkserviceorder', order.gap),
    osVersion: foundOr(version.value, 'sw_vers ProductVersion', version.gap),
    uptimeSeconds: bsdUptime(framed),
  };
}

/** Appliances built on FreeBSD may lack `freebsd-version`; the kernel's own is then the next best. */
function freebsdFacts(framed: Framed): NodeDraft {
  const version = section(framed, 'freebsd-version', (output) =>
    cleaned(firstGroup(output, /^(\d+\.\d\S*)\s*$/)),
  );
  const kernel = section(framed, 'text', (output) =>
    cleaned(firstGroup(output, /^FreeBSD (\d+\.\d\S*) /)),
  );
  const asked = framed.sections.has(sectionKey('freebsd-version'));
  return {
    osVersion: foundOr(
      version.value,
      'freebsd-version -u',
      asked ? foundOr(kernel.value, 'uname -srm', version.gap) : version.gap,
    ),
    uptimeSeconds: bsdUptime(framed),
  };
}

function bsdUptime(framed: Framed): Settled<number> {
  const boot = section(framed, 'boottime', (output) =>
    wholeNumber(firstGroup(output, /\bsec = (\d+),/)),
  );
  // Both by the node's own clock, so that its being wrong does not matter.
  const now = section(framed, 'now', (output) => wholeNumber(output.trim()));
  const uptime =
    boot.value !== undefined && now.value !== undefined && now.value >= boot.value
      ? now.value - boot.value
      : undefined;
  const why = boot.value === undefined ? boot.gap : now.gap;
  return foundOr(uptime, 'sysctl -n kern.boottime, date +%s', why);
}

const ownFacts = { linux: linuxFacts, macos: macosFacts, freebsd: freebsdFacts } as const;

function section<T>(
  framed: Framed,
  name: string,
  read: (output: string) => T | undefined,
): { readonly value: T | undefined; readonly gap: Gap } {
  const found = framed.sections.get(sectionKey(name));
  if (found === undefined) return { value: undefined, gap: missing(framed, 'not asked') };
  if (found.status !== 0) return { value: undefined, gap: refusal(found) };
  const value = read(found.output);
  return { value, gap: gap('unsupported', 'the system does not say') };
}

/** Facts, sources and gaps of what became of each fact. */
export function partOf(draft: NodeDraft): NodePart {
  const facts: Record<string, string | number | readonly string[]> = {};
  const sources: Record<string, string> = {};
  const gaps: Record<string, Gap> = {};
  for (const [name, item] of Object.entries(draft)) {
    if (item === undefined) continue;
    if ('source' in item) {
      facts[name] = item.value;
      sources[name] = item.source;
    } else gaps[name] = item;
  }
  return { facts: facts as NodeReadFacts, sources, gaps };
}
