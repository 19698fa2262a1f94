import { type FibreType, fibreCore, fibreGrades, fibrePhys, fibreReach } from './fibre-reach.ts';
import { phyRateMbps } from './phy-rate.ts';
import { type Reach, reachStanding } from './reach.ts';
import { type Brake, doubtful, type MediumReach } from './run-brake.ts';
import type { RunMeasure } from './run-measure.ts';
import { fibreOf, mediumOfPhy, type PlacedPiece } from './run-piece.ts';
import { longest, runLengthWords, runUnknowns } from './run-unknowns.ts';

/** Connectors whose loss, 1.5 dB at 0.75 dB each, the reach of 10GBASE-SR counts with (from memory). */
const connectorsReckoned = 2;

const modulesUnknown = 'the modules at its ends are not declared';

interface FibreView {
  readonly pieces: readonly PlacedPiece[];
  readonly measure: RunMeasure;
  /** Worst fibre of the run; absent: no type is declared. */
  readonly worst: FibreType | undefined;
}

/** Judges a run of fibre; `wantedPhy` stands at both ends where no module is declared. */
export function fibreRun(
  pieces: readonly PlacedPiece[],
  measure: RunMeasure,
  wantedPhy: string | undefined,
): MediumReach {
  const found = pieces.map(fibreOf);
  const view = { pieces, measure, worst: fibreGrades.find((grade) => found.includes(grade)) };
  const phys = physOf(pieces, wantedPhy);
  const rates = phys.flatMap((phy) => phyRateMbps(phy) ?? []);
  return {
    brakes: [
      ...(phys.length === 0 ? [anyPhy(view)] : phys.map((phy) => phyBrake(phy, view))),
      ...oneModule(pieces),
      ...runUnknowns(pieces, measure),
    ],
    doubts: [
      ...(phys.length === 0 ? [modulesUnknown] : []),
      ...phys.flatMap((phy) => phyDoubts(phy, view)),
      ...connectorDoubt(measure),
    ],
    ...(rates.length === 0 ? {} : { fixedMbps: Math.min(...rates) }),
  };
}

function physOf(pieces: readonly PlacedPiece[], wanted: string | undefined): readonly string[] {
  const declared = pieces.flatMap(({ kind, moduleType }) =>
    kind === 'module' ? [moduleType ?? ''] : [],
  );
  if (declared.length > 0) return [...new Set(declared)];
  return wanted === undefined ? [] : [wanted];
}

function phyBrake(phy: string, view: FibreView): Brake {
  const { pieces, measure, worst } = view;
  const module = pieces.find(({ moduleType }) => moduleType === phy);
  const rateMbps = phyRateMbps(phy);
  if (mediumOfPhy(phy) !== 'fibre' || rateMbps === undefined) {
    return doubtful(module?.index ?? 0, `nothing is known here of ${phy || 'such a module'}`);
  }
  const reach = worst === undefined ? farthestOf(phy) : reachOver(phy, worst);
  const standing = reach === undefined ? 'beyond' : reachStanding(reach, measure.lengthMetres);
  const cable = longest(pieces.filter((piece) => fibreOf(piece) === worst));
  const within = standing === 'assured';
  return {
    pieceIndex: (within ? module?.index : cable?.index) ?? cable?.index ?? 0,
    reason: within ? `${phy} runs at its one rate` : whyNot(phy, reach, view),
    assuredMbps: within ? rateMbps : 0,
    possibleMbps: standing === 'beyond' ? 0 : rateMbps,
  };
}

function whyNot(phy: string, reach: Reach | undefined, { worst, measure }: FibreView): string {
  if (reach === undefined) return `${phy} is not specified for ${worst}`;
  const { assuredMetres, conditionalMetres, condition } = reach;
  const sure = assuredMetres === undefined ? [] : [`reaches ${assuredMetres} m`];
  const maybe =
    conditionalMetres === undefined ? [] : [`reaches ${conditionalMetres} m only ${condition}`];
  const over = worst === undefined ? 'any fibre' : worst;
  const run = runLengthWords(measure);
  return `${phy} over ${over} ${[...sure, ...maybe].join(', and ')}; the run has ${run}`;
}

/** A fibre without a figure does at least what the next worse of its core does, on one's own word. */
function reachOver(phy: string, fibre: FibreType): Reach | undefined {
  const own = fibreReach(phy, fibre);
  if (own !== undefined) return own;
  const worse = fibreGrades
    .slice(0, fibreGrades.indexOf(fibre))
    .findLast((grade) => fibreCore(grade) === fibreCore(fibre) && fibreReach(phy, grade));
  const reach = worse === undefined ? undefined : fibreReach(phy, worse);
  if (reach?.assuredMetres === undefined) return undefined;
  return {
    conditionalMetres: reach.assuredMetres,
    condition: `as over ${worse}: no figure for ${fibre} is known here`,
    mark: reach.mark,
  };
}

function farthestOf(phy: string): Reach | undefined {
  const metres = Object.values(fibrePhys[phy] ?? {}).map((reach) =>
    Math.max(reach.assuredMetres ?? 0, reach.conditionalMetres ?? 0),
  );
  if (metres.length === 0) return undefined;
  return {
    conditionalMetres: Math.max(...metres),
    condition: 'on the best fibre it is made for',
    mark: 'secondary source',
  };
}

/** With no module declared, the fastest that some module could do is possible. */
function anyPhy({ worst, measure }: FibreView): Brake {
  const possible = Object.keys(fibrePhys).filter((phy) => {
    const reach = worst === undefined ? farthestOf(phy) : reachOver(phy, worst);
    return reach !== undefined && reachStanding(reach, measure.lengthMetres) !== 'beyond';
  });
  const rates = possible.flatMap((phy) => phyRateMbps(phy) ?? []);
  const none = `no module reaches ${runLengthWords(measure)} over ${worst ?? 'any fibre'}`;
  return {
    pieceIndex: 0,
    reason: rates.length === 0 ? none : modulesUnknown,
    assuredMbps: 0,
    possibleMbps: Math.max(0, ...rates),
  };
}

function oneModule(pieces: readonly PlacedPiece[]): readonly Brake[] {
  const modules = pieces.filter(({ kind }) => kind === 'module');
  const [only] = modules;
  if (modules.length !== 1 || only === undefined) return [];
  const far = only.index === 0 ? pieces.length - 1 : 0;
  return [doubtful(far, 'the module at this end is not declared')];
}

function phyDoubts(phy: string, { worst, measure }: FibreView): readonly string[] {
  if (worst === undefined) return [];
  const reach = reachOver(phy, worst);
  if (reach === undefined) return [];
  const { olderGrade, condition } = reach;
  const standing = reachStanding(reach, measure.lengthMetres);
  if (standing === 'conditional') return [`${phy} over ${worst} only ${condition}`];
  if (olderGrade === undefined || standing === 'beyond') return [];
  if (measure.lengthMetres <= olderGrade.metres) return [];
  return [
    `${worst} of an older grade (${olderGrade.modalBandwidthMhzKm} MHz·km) carries ${phy} to ${olderGrade.metres} m only`,
  ];
}

function connectorDoubt({ connectors }: RunMeasure): readonly string[] {
  if (connectors <= connectorsReckoned) return [];
  return [
    `${connectors} connectors, where reach is reckoned with about ${connectorsReckoned}: measure the loss`,
  ];
}
