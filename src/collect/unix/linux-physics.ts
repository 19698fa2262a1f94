import { parseEthtoolModes } from '../../ethernet/ethtool-mode.ts';
import { phyOf } from '../../ethernet/phy.ts';
import type { Gap } from '../../facts/gap.ts';
import { cleaned, found, foundOr, gap, type Settled } from './draft.ts';
import type { NamedCount } from './ethtool-counters.ts';
import type { EthtoolModule } from './ethtool-module.ts';
import type { EthtoolPause } from './ethtool-pause.ts';
import type { LineState } from './line-facts.ts';
import { isGap, type LinuxEvidence } from './linux-evidence.ts';
import { downGap, ofLine } from './linux-line.ts';
import { type LinePhysics, noModuleFacts } from './port-physics.ts';
import { wholeNumber } from './text.ts';

/** Facts of a Linux port that tell why its line is slow. */
export function linuxPhysics(evidence: LinuxEvidence, state: LineState): LinePhysics {
  const { pause, eee, fec, module } = evidence;
  const down = downGap(state, evidence.ethtool);
  return {
    phyText: down ?? ofLine(state, phyOfPort(evidence)),
    ...moduleFacts(module),
    pauseRx: isGap(pause) ? pause : (down ?? pauseInUse(pause, 'rx')),
    pauseTx: isGap(pause) ? pause : (down ?? pauseInUse(pause, 'tx')),
    rxPauseFrames: pauseFrames(evidence, 'rxPauseFrames'),
    txPauseFrames: pauseFrames(evidence, 'txPauseFrames'),
    eeeEnabled: eeeFact(eee, 'enabled'),
    eeeActive: isGap(eee) ? eee : (down ?? eeeFact(eee, 'active')),
    fecText: isGap(fec) ? fec : (down ?? fecOf(fec)),
    partnerAutoNegotiation: isGap(evidence.ethtool)
      ? evidence.ethtool
      : (down ?? ofLine(state, partnerNegotiates(evidence))),
    linkDownEvents: linkDownEvents(evidence),
    lateCollisions: counted(evidence, 'lateCollisions'),
    rxSymbolErrors: counted(evidence, 'rxSymbolErrors'),
  };
}

function moduleFacts(module: EthtoolModule | Gap) {
  if (isGap(module)) return noModuleFacts(module);
  const light = (dbm: number | undefined, line: string): Settled<number> =>
    foundOr(dbm, `ethtool -m ${line}`, gap('unsupported', `the module tells no ${line}`));
  const low = 'low warning threshold';
  const high = 'high warning threshold';
  return {
    moduleText: foundOr(
      cleaned(module.text),
      'ethtool -m Transceiver type',
      gap('unsupported', 'the module tells no type'),
    ),
    rxPowerDbm: light(module.rxPowerDbm, 'receiver optical power'),
    txPowerDbm: light(module.txPowerDbm, 'laser output power'),
    rxPowerLowDbm: light(module.rxPowerLowDbm, `rx power ${low}`),
    rxPowerHighDbm: light(module.rxPowerHighDbm, `rx power ${high}`),
    txPowerLowDbm: light(module.txPowerLowDbm, `output power ${low}`),
    txPowerHighDbm: light(module.txPowerHighDbm, `output power ${high}`),
    moduleTemperatureCelsius: light(module.temperatureCelsius, 'module temperature'),
  };
}

/** The physical layer by the port's kind and speed; of fibre by what the module says it is. */
function phyOfPort(evidence: LinuxEvidence): Settled<string> {
  const { ethtool, module } = evidence;
  if (isGap(ethtool)) return ethtool;
  const { speedMbps, duplex } = ethtool;
  const port = ethtool.fields.get('port') ?? 'none';
  if (speedMbps === undefined) return gap('unsupported', 'ethtool prints no speed');
  const source = 'ethtool Port and Speed';
  if (port === 'Twisted Pair') {
    const phy = phyOf(speedMbps, speedMbps === 100 ? 'TX' : 'T')?.phy;
    return foundOr(phy, source, gap('unsupported', `port ${port} at ${speedMbps} Mb/s`));
  }
  if (port === 'Direct Attach Copper' && speedMbps >= 10_000) {
    const phy = phyOf(speedMbps, 'CR')?.phy;
    return foundOr(phy, source, gap('unsupported', `port ${port} at ${speedMbps} Mb/s`));
  }
  if (port !== 'FIBRE') return gap('unsupported', `port ${port} names no medium`);
  const told = isGap(module) ? [] : module.phys;
  const own = told.filter((phy) => phy.speedMbps === speedMbps);
  if (own[0] !== undefined && own.length === 1) {
    return found(own[0].phy, 'ethtool -m Transceiver type');
  }
  if (told.length > 0) {
    return gap('doubtful', `a module of ${told[0]?.phy} in a port at ${speedMbps} Mb/s`);
  }
  const modes = parseEthtoolModes(ethtool.supportedModes ?? []).modes.filter(
    (mode) => mode.medium === 'fibre' && mode.speedMbps === speedMbps && mode.duplex === duplex,
  );
  // What a module says comes last, so that a text cut short must not settle it otherwise.
  if (isGap(module) && module.reason === 'truncated') return module;
  return foundOr(
    modes.length === 1 ? modes[0]?.phy : undefined,
    'ethtool Supported link modes',
    isGap(module) ? module : gap('unsupported', 'the module names no physical layer'),
  );
}

function pauseInUse(pause: EthtoolPause, way: 'rx' | 'tx'): Settled<boolean> {
  const negotiated = pause[`${way}Negotiated`];
  const title = way.toUpperCase();
  if (negotiated !== undefined) return found(negotiated, `ethtool -a ${title} negotiated`);
  const set = pause[way];
  if (set === undefined) return gap('unsupported', `ethtool -a prints no ${title}`);
  if (pause.autoNegotiate === false) return found(set, `ethtool -a ${title}`);
  // Drivers print there what they offer, or what came of it; which of the two is not told.
  return gap('doubtful', `${title} ${set ? 'on' : 'off'}, by negotiation without an outcome`);
}

function pauseFrames(
  evidence: LinuxEvidence,
  fact: 'rxPauseFrames' | 'txPauseFrames',
): Settled<number> {
  const { pause } = evidence;
  const own = isGap(pause) ? undefined : pause[fact];
  return foundOr(own, 'ethtool -I -a', counted(evidence, fact));
}

function counted(
  { counters }: LinuxEvidence,
  fact: 'lateCollisions' | 'rxSymbolErrors' | 'rxPauseFrames' | 'txPauseFrames',
): Settled<number> {
  if (isGap(counters)) return counters;
  return count(counters[fact]) ?? gap('unsupported', 'the driver counts it under no known name');
}

function count(counter: NamedCount | undefined): Settled<number> {
  return counter === undefined ? undefined : found(counter.value, `ethtool -S ${counter.names}`);
}

function linkDownEvents({ ethtool, counters }: LinuxEvidence): Settled<number> {
  const text = isGap(ethtool) ? undefined : ethtool.fields.get('link down events');
  const own = wholeNumber(text);
  if (own !== undefined) return found(own, 'ethtool Link Down Events');
  if (isGap(counters)) return counters;
  const why = gap('unsupported', 'ethtool prints no Link Down Events');
  return count(counters.linkDownEvents) ?? why;
}

function eeeFact(eee: LinuxEvidence['eee'], which: 'enabled' | 'active'): Settled<boolean> {
  if (isGap(eee)) return eee;
  if ('said' in eee) return gap('unsupported', `EEE status: ${eee.said}`);
  return found(eee[which], 'ethtool --show-eee');
}

function fecOf(said: string): Settled<string> {
  const none = gap('unsupported', `Active FEC encoding: ${said}`);
  if (/^(?:none|not reported)$/i.test(said)) return none;
  return foundOr(cleaned(said), 'ethtool --show-fec', none);
}

/**
 * A partner that negotiates marks its page so; one that was only detected leaves one mode at most
 * behind. Some drivers list what a partner offers and never set the mark.
 */
function partnerNegotiates({ ethtool }: LinuxEvidence): Settled<boolean> {
  if (isGap(ethtool)) return ethtool;
  const mark = ethtool.fields.get('link partner advertised auto-negotiation');
  const listed = ethtool.partnerModes?.length ?? 0;
  const source = 'ethtool Link partner advertised auto-negotiation';
  if (mark === 'Yes') return found(true, source);
  if (mark !== 'No') return gap('unsupported', 'ethtool prints nothing of the partner');
  if (ethtool.autoNegotiation !== true) {
    return gap('unsupported', 'without negotiation here nothing is heard of the partner');
  }
  return listed > 1
    ? gap('doubtful', `No, yet ${listed} modes of the partner are listed`)
    : found(false, source);
}
