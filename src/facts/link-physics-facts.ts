import type { FactEntry } from './entry.ts';

/** What follows for a link from its run and from the modes of its ends. */
export const linkPhysicsFacts = {
  ratedMbps: {
    type: 'number',
    origin: 'derived',
    unit: 'Mb/s',
    meaning: 'What it is meant to run at: the declared speed, else the highest that both ends can',
    absentWhen: 'no speed is declared and the modes of an end are not told',
    sources: ['intent links.*.speed, port.supportedModes'],
  },
  commonMbps: {
    type: 'number',
    origin: 'derived',
    unit: 'Mb/s',
    meaning: 'Highest mode that both ends offer',
    absentWhen: 'what an end offers is not told, or they have nothing in common',
    sources: ['port.advertisedModes, port.partnerModes'],
  },
  capableMbps: {
    type: 'number',
    origin: 'derived',
    unit: 'Mb/s',
    meaning: 'Highest speed that both ends can do',
    absentWhen: 'the modes of an end are not told',
    sources: ['port.supportedModes'],
  },
  capableEnd: {
    type: 'text',
    origin: 'derived',
    meaning: 'The end that can do less',
    absentWhen: 'the modes of an end are not told, or both ends can do the same',
    sources: ['port.supportedModes'],
  },
  runReachMbps: {
    type: 'number',
    origin: 'derived',
    unit: 'Mb/s',
    meaning: 'Highest rate that the declared run carries for certain',
    absentWhen: 'no run is declared, or nothing is certain of it',
    sources: ['intent links.*.run, reach by ISO/IEC 11801 and IEEE 802.3'],
  },
  runConditionalMbps: {
    type: 'number',
    origin: 'derived',
    unit: 'Mb/s',
    meaning: 'A higher rate that the declared run may carry',
    absentWhen: 'there is none',
    sources: ['intent links.*.run'],
  },
  runLengthMetres: {
    type: 'number',
    origin: 'derived',
    unit: 'm',
    meaning: 'Length of the declared run; a lower bound where a cable has no length',
    absentWhen: 'no run is declared',
    sources: ['intent links.*.run'],
  },
  runLimitText: {
    type: 'text',
    origin: 'derived',
    meaning: 'The piece of the run that keeps it from the declared speed, else from more, and why',
    absentWhen: 'no run is declared, or it carries the declared speed',
    sources: ['intent links.*.run'],
  },
  runDoubts: {
    type: 'texts',
    origin: 'derived',
    meaning: 'What one should know before believing what the run is said to carry',
    absentWhen: 'no run is declared',
    sources: ['intent links.*.run'],
  },
  runFits: {
    type: 'flag',
    origin: 'derived',
    meaning: 'The declared run carries the declared speed for certain, or for certain does not',
    absentWhen:
      'it may; absent without a reason: no run or no speed is declared, the run does not tell, its modules do not agree, or it may and does',
    sources: ['link.runReachMbps, link.declaredSpeedMbps, link.runsAsDeclared'],
  },
  modulesAgree: {
    type: 'flag',
    origin: 'derived',
    meaning: 'The declared modules work with each other and with the cable between them',
    absentWhen: 'no module is declared',
    sources: ['intent links.*.run'],
  },
  mediumAsDeclared: {
    type: 'flag',
    origin: 'derived',
    meaning: 'What the ends say of their medium is that of the declared run',
    absentWhen: 'the run names no medium, or no end says its own',
    sources: ['intent links.*.run, port.phyText, port.moduleText'],
  },
  mediumSaid: {
    type: 'texts',
    origin: 'derived',
    meaning: 'What each end says of its medium, with its name',
    absentWhen: 'there is no `mediumAsDeclared`',
    sources: ['port.phyText, port.moduleText'],
  },
  runsAsDeclared: {
    type: 'flag',
    origin: 'derived',
    meaning:
      'An end is seen to run at the declared speed or more, and none below it; false too where no end says',
    absentWhen: 'no speed is declared',
    sources: ['port.speedMbps, port.operUp'],
  },
  limitKind: {
    type: 'text',
    origin: 'derived',
    meaning:
      'What keeps it from what it is meant to run at, or from what its ports carry: `nothing`, `run`, `cable`, `setting`, `capability`, `bus`, `ends` (they differ in speed), `duplex` or `unknown`',
    sources: ['port.speedCause of both ends, link.runFits, port.busFeedsPort'],
  },
  limitedBy: {
    type: 'text',
    origin: 'derived',
    meaning:
      'The same with the element named: `run`, `cable or connector`, `configuration of plot-1:desk`, `capability of quay-sw:xg2`, `bus of plot-1:desk`, `unequal ends`, `duplex mismatch`',
    absentWhen: 'it cannot be told; absent without a reason: nothing limits it',
    sources: ['link.limitKind'],
  },
} as const satisfies Record<string, FactEntry>;
