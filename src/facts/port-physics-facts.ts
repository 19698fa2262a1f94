import type { FactEntry } from './entry.ts';

/** What follows for a port from its modes, its bus, its counters and its light. */
export const portPhysicsFacts = {
  capableMbps: {
    type: 'number',
    origin: 'derived',
    unit: 'Mb/s',
    meaning: 'Highest speed that the port can do',
    absentWhen: 'its modes are not told',
    sources: ['port.supportedModes'],
  },
  advertisedMbps: {
    type: 'number',
    origin: 'derived',
    unit: 'Mb/s',
    meaning: 'Highest speed that the port offers',
    absentWhen: 'what it offers is not told',
    sources: ['port.advertisedModes'],
  },
  partnerMbps: {
    type: 'number',
    origin: 'derived',
    unit: 'Mb/s',
    meaning: 'Highest speed that its partner was heard to offer',
    absentWhen: 'what the partner offers is not told',
    sources: ['port.partnerModes'],
  },
  speedCause: {
    type: 'text',
    origin: 'derived',
    meaning:
      'Why it runs at its speed, from this end: `as-negotiated`, `downshift`, `limited-here`, `limited-by-partner`, `limited-by-both`, `fixed`, `not-negotiated`, `above-common`, `empty-common`, `no-partner-list`, `no-local-list` or `undetermined`',
    absentWhen: 'no link ends here, the port is virtual or down, or its speed is not known',
    sources: ['IEEE 802.3 Annex 28B.3 over port.advertisedModes and port.partnerModes'],
  },
  busFeedsPort: {
    type: 'flag',
    origin: 'derived',
    meaning:
      'The host bus carries what the port is declared to run at, or, where nothing is declared, what it can',
    label: 'whether its host bus is fast enough',
    absentWhen: 'the bus or the speed is not told, or the bus has hardly enough',
    sources: ['port.busText, port.busMbps'],
  },
  errorVerdict: {
    type: 'text',
    origin: 'derived',
    meaning:
      'Broken frames since `countedSince`, against the limit of the PHY: `worse-than-limit`, `within` or `cannot-tell-yet`',
    label: 'whether it has too many broken frames',
    absentWhen: 'errors are not counted, or no limit is known for the PHY in use',
    sources: ['port.rxCrcErrors, port.rxAlignmentErrors over port.rxFrames and port.rxOctets'],
  },
  errorRatio: {
    type: 'number',
    origin: 'derived',
    meaning: 'Estimate of the error ratio: per bit, or per frame where the PHY corrects errors',
    absentWhen: 'there is no `errorVerdict`, or nothing was carried',
    sources: ['port.errorVerdict'],
  },
  errorLimitRatio: {
    type: 'number',
    origin: 'derived',
    meaning: 'The limit that `errorRatio` is held to',
    absentWhen: 'there is no `errorVerdict`',
    sources: ['IEEE 802.3, the clause of the PHY'],
  },
  brokenFrames: {
    type: 'number',
    origin: 'derived',
    unit: 'frames',
    meaning: 'Broken frames that `errorVerdict` rests on',
    absentWhen: 'there is no `errorVerdict`',
    sources: ['port.rxCrcErrors, port.rxAlignmentErrors, less those of an earlier night'],
  },
  countedFrames: {
    type: 'number',
    origin: 'derived',
    unit: 'frames',
    meaning: 'Good frames received in the same time',
    absentWhen: 'there is no `errorVerdict`',
    sources: ['port.rxFrames, less those of an earlier night'],
  },
  countedSince: {
    type: 'text',
    origin: 'derived',
    meaning:
      'Since when: time of an earlier night, or `its counters began` where there is none to count from',
    absentWhen: 'there is no `errorVerdict`',
    sources: ['history; node.uptimeSeconds tells whether the counters went on'],
  },
  rxPowerVerdict: {
    type: 'text',
    origin: 'derived',
    meaning: 'The light received: `ok`, `low`, `high` or `no-light`',
    label: 'whether it receives enough light',
    absentWhen: 'no optic that measures, or no limit to compare with',
    sources: ["port.rxPowerDbm against the module's limits, else the window of the PHY"],
  },
  rxPowerMarginDb: {
    type: 'number',
    origin: 'derived',
    unit: 'dB',
    meaning: 'Distance of the light received to the nearest limit, negative beyond it',
    absentWhen: 'there is no `rxPowerVerdict`, or no light',
    sources: ['port.rxPowerVerdict'],
  },
  linkChangesPerDay: {
    type: 'number',
    origin: 'derived',
    meaning:
      'How often the link came or went in a day, on the average since an earlier night, else since the start of the node',
    label: 'how often its link comes and goes',
    absentWhen:
      'not counted, the node is up for less than a day, or an end is declared to sleep or to be away at times',
    sources: ['port.carrierChanges, else twice port.linkDownEvents, over node.uptimeSeconds'],
  },
  halfDuplexSuspect: {
    type: 'flag',
    origin: 'derived',
    meaning:
      'It took half duplex by negotiating with a partner that does not, or counts late collisions in half duplex: the other end probably runs full duplex',
    label: 'whether its other end runs in another duplex',
    absentWhen: 'its duplex is not known, or half with nothing that tells more',
    sources: [
      'port.duplex, port.autoNegotiation, port.partnerAutoNegotiation, port.lateCollisions',
    ],
  },
  pausedShare: {
    type: 'number',
    origin: 'derived',
    meaning:
      'Share of the time since the system started for which received pause frames can have halted it, at most',
    label: 'how long pause frames halt it',
    absentWhen: 'they are not counted, or speed or uptime is not known',
    sources: ['port.rxPauseFrames, port.speedMbps, node.uptimeSeconds; IEEE 802.3 Annex 31B'],
  },
} as const satisfies Record<string, FactEntry>;
