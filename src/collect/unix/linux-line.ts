import type { Gap } from '../../facts/gap.ts';
import { cleaned, foundOr, gap, type Settled } from './draft.ts';
import { believableSpeed, type Ethtool } from './ethtool-text.ts';
import type { LineFacts, LineState } from './line-facts.ts';
import { isGap, type LinuxEvidence } from './linux-evidence.ts';
import type { Sysfs } from './sysfs.ts';
import { wholeNumber } from './text.ts';

/** What tells of the line behind a port. */
type LineEvidence = Pick<LinuxEvidence, 'ethtool' | 'sysfs'>;

/** Facts of the line behind a port: speed, duplex, negotiation. */
export function linuxLine(evidence: LineEvidence, state: LineState): LineFacts {
  const { ethtool } = evidence;
  const down = downGap(state, ethtool);
  const gapFor = (name: string): Gap => {
    if (isGap(ethtool)) return ethtool;
    return gap('unsupported', ethtool.fields.get(name) ?? `ethtool prints no ${name}`);
  };
  const read: Partial<Ethtool> = isGap(ethtool) ? {} : ethtool;
  const partner = gapFor('link partner advertised link modes');
  const port = isGap(ethtool) ? undefined : cleaned(ethtool.fields.get('port'));
  return {
    speedMbps: believed(state, down, speedOf(evidence)),
    duplex: believed(state, down, duplexOf(evidence)),
    autoNegotiation: ofLine(
      state,
      foundOr(read.autoNegotiation, 'ethtool', gapFor('auto-negotiation')),
    ),
    supportedModes: foundOr(read.supportedModes, 'ethtool', gapFor('supported link modes')),
    advertisedModes: foundOr(read.advertisedModes, 'ethtool', gapFor('advertised link modes')),
    partnerModes: foundOr(
      read.partnerModes,
      'ethtool',
      isGap(ethtool) ? ethtool : (down ?? partner),
    ),
    mediaText: foundOr(port, 'ethtool Port', gapFor('port')),
    linkText: foundOr(cleaned(read.linkText), 'ethtool Link detected', undefined),
  };
}

/** The gap of what means nothing without link; undefined while there is one. */
export function downGap(state: LineState, ethtool: Ethtool | Gap): Gap | undefined {
  const { operUp } = state;
  if (operUp === undefined || !('value' in operUp) || operUp.value) return undefined;
  const said = isGap(ethtool) ? undefined : ethtool.linkText;
  return gap('down', said === undefined ? 'no link' : `no link (${said})`);
}

function believed<T extends number | string>(
  state: LineState,
  down: Gap | undefined,
  read: Settled<T>,
): Settled<T> {
  return down ?? ofLine(state, read);
}

/** What a port without a line says of its line is made up: kept as words, never as a fact. */
export function ofLine<T extends number | string | boolean>(
  state: LineState,
  read: Settled<T>,
): Settled<T> {
  if (read === undefined || !('value' in read)) return read;
  if (state.kind === 'virtual' || state.kind === 'tunnel' || state.kind === 'bridge') {
    return gap('doubtful', `${read.value}, made up by a port that has no hardware`);
  }
  if (state.kind === undefined) return gap('doubtful', `${read.value}, of a port of unknown kind`);
  return read;
}

function speedSaid(text: string | undefined): string {
  return text === undefined ? 'ethtool prints no speed' : `ethtool prints the speed as "${text}"`;
}

function speedOf({ ethtool, sysfs }: LineEvidence): Settled<number> {
  if (!isGap(ethtool)) {
    return foundOr(
      ethtool.speedMbps,
      'ethtool Speed',
      gap('unsupported', speedSaid(ethtool.fields.get('speed'))),
    );
  }
  if (ethtool.reason === 'truncated') return ethtool;
  const text = sysfsText(sysfs, 'speed');
  if (typeof text !== 'string') return text;
  const speed = believableSpeed(wholeNumber(text));
  // The kernel writes -1 where it does not know (Documentation/ABI/testing/sysfs-class-net).
  const words = `the system does not know it: /sys/class/net/*/speed has ${text}`;
  return foundOr(speed, '/sys/class/net/*/speed', gap('unsupported', words));
}

function duplexOf({ ethtool, sysfs }: LineEvidence): Settled<string> {
  if (!isGap(ethtool)) {
    return foundOr(
      ethtool.duplex,
      'ethtool Duplex',
      gap('unsupported', ethtool.fields.get('duplex') ?? 'ethtool prints no duplex'),
    );
  }
  if (ethtool.reason === 'truncated') return ethtool;
  const text = sysfsText(sysfs, 'duplex');
  if (typeof text !== 'string') return text;
  const duplex = text === 'full' || text === 'half' ? text : undefined;
  return foundOr(duplex, '/sys/class/net/*/duplex', gap('unsupported', `duplex ${text}`));
}

function sysfsText(sysfs: Sysfs | Gap, name: string): string | Gap {
  if (isGap(sysfs)) return sysfs;
  const why = sysfs.refused.get(name) ?? `/sys/class/net has no ${name}`;
  return sysfs.values.get(name) ?? gap('unsupported', why);
}
