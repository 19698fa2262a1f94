/** The types a fact may have; lists are flat. */
export const factTypes = ['number', 'text', 'flag', 'numbers', 'texts'] as const;
/** The type of a fact. */
export type FactType = (typeof factTypes)[number];

/** Where a fact comes from: read from a node, declared in the intent, or derived from both. */
export type FactOrigin = 'read' | 'declared' | 'derived';

/** One entry of the dictionary: everything hopgauge knows about a fact's name. */
export interface FactEntry {
  readonly type: FactType;
  readonly origin: FactOrigin;
  /** `bytes`, `Mb/s`, `s`, `m`, `dBm`, `frames`, `octets`; absent: a pure number or no number. */
  readonly unit?: string;
  readonly meaning: string;
  /**
   * What nobody knows where the fact is absent, as people say it before `is not known`: `whether it
   * has a link`. Absent: no shipped rule asks for the fact in a condition.
   */
  readonly label?: string;
  /**
   * Moves by itself from night to night, so that a new value is no news: a `counter` grows, a
   * `measure` drifts, what belongs to one `run` of the system is new after each restart. Absent:
   * stays until somebody changes something.
   */
  readonly varies?: 'counter' | 'measure' | 'run';
  /** When the fact is absent; absent here: never, once its subject is known. */
  readonly absentWhen?: string;
  /** Standard object or command that gives it; for derived facts, the rule that makes it. */
  readonly sources: readonly string[];
}

/** The TypeScript type of a fact of type `T`. */
export type ValueOf<T extends FactType> = T extends 'number'
  ? number
  : T extends 'text'
    ? string
    : T extends 'flag'
      ? boolean
      : T extends 'numbers'
        ? readonly number[]
        : readonly string[];

/** The value of any fact. */
export type FactValue = ValueOf<FactType>;

/** The plain object of a dictionary's facts; every one may be absent. */
export type FactsOf<D extends Readonly<Record<string, FactEntry>>> = {
  readonly [K in keyof D]?: ValueOf<D[K]['type']>;
};
