import type { Reach, SourceMark } from './reach.ts';

/** Fibre types (ISO/IEC 11801), multi-mode worst first, then single-mode worst first. */
export const fibreGrades = ['om1', 'om2', 'om3', 'om4', 'om5', 'os1', 'os2'] as const;
/** A grade of fibre. */
export type FibreType = (typeof fibreGrades)[number];

/** Core and mode; fibres of two cores cannot be joined. 62.5 is OM1, 50 is OM2 to OM5. */
export type FibreCore = '62.5 µm' | '50 µm' | 'single-mode';

/** The core of a grade of fibre. */
export function fibreCore(fibre: FibreType): FibreCore {
  if (fibre === 'os1' || fibre === 'os2') return 'single-mode';
  return fibre === 'om1' ? '62.5 µm' : '50 µm';
}

/** Reach of one PHY per fibre type; a type not there has no published figure. */
export type FibreReaches = Readonly<Partial<Record<FibreType, Reach>>>;

const quoted = (assuredMetres: number, mark: SourceMark = 'secondary source'): Reach => ({
  assuredMetres,
  mark,
});
const recalled = (assuredMetres: number): Reach => quoted(assuredMetres, 'from memory');
const older = (modalBandwidthMhzKm: number, metres: number) => ({
  olderGrade: { modalBandwidthMhzKm, metres },
});
const single = (reach: Reach): FibreReaches => ({ os1: reach, os2: reach });
const engineered: Reach = {
  assuredMetres: 30_000,
  conditionalMetres: 40_000,
  condition: 'on an engineered link whose loss was measured',
  mark: 'from memory',
};
const sxOnOm3: Reach = {
  ...quoted(550),
  conditionalMetres: 1000,
  condition: 'with modules sold for it: some quote 800 to 1000 m',
};
const shortParallel: FibreReaches = { om3: quoted(100), om4: quoted(150), om5: recalled(150) };
const short25: FibreReaches = { om3: quoted(70), om4: recalled(100), om5: recalled(100) };

/**
 * Reach of the fibre PHYs. Each figure carries its mark; 300 m and 400 m of 10GBASE-SR and 100 m
 * and 150 m of 40GBASE-SR4 as the Ethernet Alliance quotes them (secondary source). OM1 stands
 * for 62.5 µm of 200 MHz·km, OM2 for 50 µm of 500 MHz·km, at 850 nm.
 */
export const fibrePhys: Readonly<Record<string, FibreReaches>> = {
  '100BASE-FX': {
    om1: quoted(2000),
    om2: quoted(2000),
    om3: quoted(2000),
    om4: quoted(2000),
    om5: quoted(2000),
  },
  '1000BASE-SX': {
    om1: { ...quoted(275), ...older(160, 220) },
    om2: { ...quoted(550), ...older(400, 500) },
    om3: sxOnOm3,
    om4: quoted(550),
    om5: quoted(550),
  },
  '1000BASE-LX': {
    om1: {
      conditionalMetres: 550,
      condition: 'with a mode-conditioning cord at each end',
      mark: 'secondary source',
    },
    om2: quoted(550),
    om3: quoted(550),
    om4: quoted(550),
    om5: quoted(550),
    ...single(recalled(5000)),
  },
  '1000BASE-LX10': single(recalled(10_000)),
  '10GBASE-SR': {
    om1: { ...quoted(33), ...older(160, 26) },
    om2: { ...quoted(82), ...older(400, 66) },
    om3: quoted(300),
    om4: quoted(400),
    om5: recalled(400),
  },
  '10GBASE-LRM': {
    om1: quoted(220),
    om2: { ...quoted(220), ...older(400, 100) },
    om3: quoted(220),
    om4: recalled(220),
  },
  '10GBASE-LR': single(quoted(10_000)),
  '10GBASE-ER': single(engineered),
  '10GBASE-LX4': {
    om1: quoted(300),
    om2: quoted(300),
    om3: quoted(300),
    ...single(quoted(10_000)),
  },
  '25GBASE-SR': short25,
  '25GBASE-LR': single(recalled(10_000)),
  '25GBASE-ER': single(engineered),
  '40GBASE-SR4': shortParallel,
  '100GBASE-SR10': shortParallel,
  '40GBASE-LR4': single(quoted(10_000)),
  '40GBASE-FR': single(recalled(2000)),
  '40GBASE-ER4': single(recalled(40_000)),
  '100GBASE-SR4': short25,
  '100GBASE-LR4': single(recalled(10_000)),
  '100GBASE-ER4': single(recalled(40_000)),
};

/** Reach of a PHY over a fibre type; undefined where either is not known or has no figure. */
export function fibreReach(phy: string, fibre: FibreType): Reach | undefined {
  return Object.hasOwn(fibrePhys, phy) ? fibrePhys[phy]?.[fibre] : undefined;
}

/** Whether a PHY is made for multi-mode or single-mode as that fibre is; false: unknown PHY too. */
export function sameMode(phy: string, core: FibreCore): boolean {
  const single = core === 'single-mode';
  return fibreGrades.some(
    (fibre) =>
      (fibreCore(fibre) === 'single-mode') === single && fibreReach(phy, fibre) !== undefined,
  );
}
