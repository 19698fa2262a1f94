import type { Io } from './io.ts';
import { type NodeReader, nodeReader } from './node-reader.ts';

/** Runs whose connections and refused credentials are remembered; the oldest is forgotten first. */
const runsMax = 16;

/** Readers of a collector, one for each audit that asks. */
export interface ReadersByRun {
  /**
   * What the nodes of one audit share here: jump hosts, and which credentials were refused. All that
   * it reads ends with `session`.
   */
  readonly of: (run: string, session: AbortSignal) => NodeReader;
  readonly close: () => void;
}

/** So that a credential that was refused three times is not used again in that audit. */
export function readersByRun(io: Io): ReadersByRun {
  const readers = new Map<string, { readonly reader: NodeReader; readonly session: AbortSignal }>();
  const forget = (run: string) => {
    readers.get(run)?.reader.close();
    readers.delete(run);
  };
  return {
    of: (run, session) => {
      const known = readers.get(run);
      if (known?.session === session) return known.reader;
      forget(run);
      for (const oldest of [...readers.keys()].slice(0, readers.size - runsMax + 1)) forget(oldest);
      const reader = nodeReader({ ...io, signal: session });
      readers.set(run, { reader, session });
      return reader;
    },
    close: () => {
      for (const run of [...readers.keys()]) forget(run);
    },
  };
}
