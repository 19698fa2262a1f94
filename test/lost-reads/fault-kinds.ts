/** What can go wrong with one read, each in the way of whoever is read. */
export const faultKinds = [
  'refused',
  'reset',
  'hang',
  'garbage',
  'truncation',
  'wrong type',
] as const;
/** What went wrong with one read. */
export type FaultKind = (typeof faultKinds)[number];

/** What became of the runs with one kind of fault. */
export interface FaultCount {
  runs: number;
  /** The node was read, less what the fault took. */
  read: number;
  /** It was not read at all, and says why. */
  unread: number;
  /** Claims that the run shares with the undisturbed one. */
  kept: number;
  /** Verdicts that became undetermined. */
  undetermined: number;
  /** Verdicts of rules that ask for what is now not known, and so say nothing. */
  silent: number;
}

/** No runs yet. */
export function noRuns(): FaultCount {
  return { runs: 0, read: 0, unread: 0, kept: 0, undetermined: 0, silent: 0 };
}

/** The matrix of faults as text, a line for each kind. */
export function matrixText(what: string, counts: ReadonlyMap<string, FaultCount>): string {
  const rows = [...counts].map(
    ([kind, { runs, read, unread, kept, undetermined, silent }]) =>
      `  ${kind.padEnd(10)} ${runs} runs: node read ${read}, not read ${unread}; ` +
      `${kept} claims as before, 0 others; ${undetermined} verdicts undetermined, ${silent} silent`,
  );
  return [`faults of ${what}`, ...rows].join('\n');
}
