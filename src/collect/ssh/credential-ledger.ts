/** Refusals of one credential, with no acceptance between, after which it is not used again. */
export const refusalsMax = 3;

/** What is known of one credential in this run. */
export interface CredentialRecord {
  /** Nodes that refused it since the last one that accepted it. */
  readonly refusals: number;
  /** Offered to a node that has not answered yet. */
  readonly inFlight: number;
  readonly accepted: boolean;
}

/** A credential that has not been tried in this run. */
export const freshRecord: CredentialRecord = { refusals: 0, inFlight: 0, accepted: false };

/**
 * Whether a credential may be offered now. While no node has accepted it, what is in flight counts
 * as refused, or fifty logins at once would lock an account before the first refusal comes back.
 */
export function admit(record: CredentialRecord): 'go' | 'wait' | 'spent' {
  if (record.refusals >= refusalsMax) return 'spent';
  if (record.accepted) return 'go';
  return record.refusals + record.inFlight < refusalsMax ? 'go' : 'wait';
}

/** How an offer ended; `unanswered` when the connection was lost or the node accepts others. */
export type OfferEnd = 'accepted' | 'refused' | 'unanswered';

/** The record after an offer has ended. */
export function settle(record: CredentialRecord, end: OfferEnd): CredentialRecord {
  const inFlight = Math.max(0, record.inFlight - 1);
  if (end === 'accepted') return { refusals: 0, inFlight, accepted: true };
  const refusals = record.refusals + (end === 'refused' ? 1 : 0);
  return { ...record, refusals, inFlight };
}

/** Counts refusals per credential over all nodes of one run. */
export interface CredentialLedger {
  /** True once the credential may be offered; false when it is spent, or the signal ends. */
  readonly ask: (credential: string, signal: AbortSignal) => Promise<boolean>;
  /** Each `ask` that gave true is followed by one `tell`. */
  readonly tell: (credential: string, end: OfferEnd) => void;
  /**
   * Counts a refusal that was told as `unanswered` while the node might still have accepted
   * another credential: a key on the way to a login that succeeds has turned nobody away.
   */
  readonly blame: (credential: string) => void;
}

/** A ledger for one run. `credential` is any name that is not secret itself. */
export function createCredentialLedger(): CredentialLedger {
  const records = new Map<string, CredentialRecord>();
  const waiting = new Set<() => void>();
  const recordOf = (credential: string) => records.get(credential) ?? freshRecord;
  return {
    ask: async (credential, signal) => {
      while (!signal.aborted) {
        const record = recordOf(credential);
        const answer = admit(record);
        if (answer === 'spent') return false;
        if (answer === 'go') {
          records.set(credential, { ...record, inFlight: record.inFlight + 1 });
          return true;
        }
        await nextTelling(waiting, signal);
      }
      return false;
    },
    tell: (credential, end) => {
      records.set(credential, settle(recordOf(credential), end));
      for (const wake of [...waiting]) wake();
    },
    blame: (credential) => {
      const record = recordOf(credential);
      records.set(credential, { ...record, refusals: record.refusals + 1 });
    },
  };
}

function nextTelling(waiting: Set<() => void>, signal: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    const wake = () => {
      waiting.delete(wake);
      signal.removeEventListener('abort', wake);
      resolve();
    };
    waiting.add(wake);
    signal.addEventListener('abort', wake);
  });
}
