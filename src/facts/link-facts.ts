import type { FactEntry } from './entry.ts';

/** Facts of a link: two ports joined by a run. */
export const linkFacts = {
  id: {
    type: 'text',
    origin: 'derived',
    meaning: 'Both ends, as `plot-1:desk - quay-sw:xg2`',
    sources: ['intent links'],
  },
  ends: {
    type: 'texts',
    origin: 'declared',
    meaning: 'The two ports that it joins',
    sources: ['intent links'],
  },
  labels: {
    type: 'text',
    origin: 'declared',
    meaning: 'Labels of the run to touch, in order',
    absentWhen: 'no run is declared, or it has no labels',
    sources: ['intent links.*.run'],
  },
  lag: {
    type: 'text',
    origin: 'declared',
    meaning: 'The aggregate that the link is a member of',
    absentWhen: 'it is none',
    sources: ['intent links.*.lag'],
  },
  declaredSpeedMbps: {
    type: 'number',
    origin: 'declared',
    unit: 'Mb/s',
    meaning: 'Speed that the link is declared to run at',
    absentWhen: 'none is declared',
    sources: ['intent links.*.speed'],
  },
  judged: {
    type: 'flag',
    origin: 'derived',
    meaning: 'Both ends are read, physical and up: their speed and duplex can be compared',
    absentWhen: 'an end could not be read',
    sources: ['port.operUp, port.virtual'],
  },
  speedsMbps: {
    type: 'numbers',
    origin: 'derived',
    unit: 'Mb/s',
    meaning: 'Speed at each end, in the order of `ends`',
    absentWhen: 'an end could not be read',
    sources: ['port.speedMbps'],
  },
  speedsEqual: {
    type: 'flag',
    origin: 'derived',
    meaning: 'Both ends run at one speed',
    absentWhen: 'the speed of an end is not known',
    sources: ['port.speedMbps'],
  },
  duplexes: {
    type: 'texts',
    origin: 'derived',
    meaning: 'Duplex at each end, in the order of `ends`',
    absentWhen: 'an end could not be read',
    sources: ['port.duplex'],
  },
  duplexesEqual: {
    type: 'flag',
    origin: 'derived',
    meaning: 'Both ends run in one duplex mode',
    absentWhen: 'the duplex of an end is not known',
    sources: ['port.duplex'],
  },
} as const satisfies Record<string, FactEntry>;
