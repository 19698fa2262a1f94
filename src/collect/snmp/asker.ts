import { openSession, type ReadingSession, type Varbind } from './agent-session.ts';
import { type Failure, failureOf } from './failure.ts';
import { retriesDefault, type SnmpTarget } from './target.ts';

/** Datagrams that one request may cost: discovery, the request and one resync, each repeated. */
const datagramsPerRequestMax = 12;

/** What one node may cost. */
export interface AskerBounds {
  /** Ends the request in flight and all later ones. */
  readonly stop: AbortSignal;
  /** Octets taken from the agent in all. */
  readonly bytesMax: number;
  /** Requests in all, repeats not counted. */
  readonly requestsMax: number;
}

/** What an agent answered, or how it failed. */
export type Answer<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly failure: Failure };

/** Values per requested OID, in the order asked; short or empty where the agent sent fewer. */
export type Series = readonly (readonly Varbind[])[];

type Start<T> = (session: ReadingSession, done: (error: unknown, value?: T) => void) => void;

/**
 * Asks one agent, one request in flight. Every method ends with an answer, whatever the agent
 * sends: a request that the library loses on a hostile datagram ends as `garbled`.
 */
export class Asker {
  /** Datagrams that came from the agent. */
  heard = 0;
  /** Datagrams that could not be read as SNMP. */
  garbled = 0;
  /** Requests that were answered with values. */
  answered = 0;
  #replied = false;
  readonly #target: SnmpTarget;
  readonly #bounds: AskerBounds;
  #session: ReadingSession;
  #renewed = false;
  #requests = 0;
  #bytes = 0;
  #datagrams = 0;
  #lost: (failure: Failure) => void = () => {};

  constructor(target: SnmpTarget, bounds: AskerBounds) {
    this.#target = target;
    this.#bounds = bounds;
    this.#session = this.#open();
  }

  /** Something of what came belonged to a request of ours, discovery among them. */
  get matched(): boolean {
    return this.#replied || this.#session.discovered();
  }

  /** Values of instances, one for each OID. */
  get(oids: readonly string[]): Promise<Answer<readonly Varbind[]>> {
    return this.#ask<Varbind[]>((session, done) => session.get([...oids], done));
  }

  /** The value after each OID. */
  async next(oids: readonly string[]): Promise<Answer<Series>> {
    const answer = await this.#ask<Varbind[]>((session, done) => session.getNext([...oids], done));
    return answer.ok ? { ok: true, value: answer.value.map((varbind) => [varbind]) } : answer;
  }

  /** Up to `repetitions` values after each OID; `retries` replaces the target's. */
  async bulk(
    oids: readonly string[],
    repetitions: number,
    retries?: number,
  ): Promise<Answer<Series>> {
    const answer = await this.#ask<(Varbind | Varbind[])[]>(
      (session, done) => session.getBulk([...oids], 0, repetitions, done),
      retries,
    );
    if (!answer.ok) return answer;
    return { ok: true, value: answer.value.map((item) => (Array.isArray(item) ? item : [item])) };
  }

  close(): void {
    this.#session.close();
  }

  async #ask<T>(start: Start<T>, retries?: number): Promise<Answer<T>> {
    const answer = await this.#once(start, retries);
    if (answer.ok || answer.failure.kind !== 'clock' || this.#renewed) return answer;
    // A session never recovers from an agent whose clock went back; a new one discovers it anew.
    this.#renewed = true;
    this.#session.close();
    this.#session = this.#open();
    return this.#once(start, retries);
  }

  #once<T>(start: Start<T>, retries?: number): Promise<Answer<T>> {
    if (this.#bounds.stop.aborted) return Promise.resolve({ ok: false, failure: over });
    this.#requests += 1;
    if (this.#requests > this.#bounds.requestsMax) {
      return Promise.resolve({ ok: false, failure: flood('more requests than a node may cost') });
    }
    this.#datagrams = 0;
    this.#session.retries = retries ?? this.#target.timing?.retries ?? retriesDefault;
    return new Promise((resolve) => {
      const end = (answer: Answer<T>) => {
        this.#bounds.stop.removeEventListener('abort', stopped);
        resolve(answer);
      };
      const stopped = () => end({ ok: false, failure: over });
      this.#lost = (failure) => end({ ok: false, failure });
      this.#bounds.stop.addEventListener('abort', stopped, { once: true });
      start(this.#session, (error, value) => end(this.#answerOf(error, value)));
    });
  }

  #answerOf<T>(error: unknown, value: T | undefined): Answer<T> {
    if (error instanceof Error || value === undefined) {
      const failure = failureOf(error);
      this.#replied ||= !unheard.has(failure.kind);
      return { ok: false, failure };
    }
    this.#replied = true;
    this.answered += 1;
    return { ok: true, value };
  }

  #open(): ReadingSession {
    return openSession(this.#target, {
      received: (bytes) => {
        this.heard += 1;
        this.#bytes += bytes;
        if (this.#bytes > this.#bounds.bytesMax) this.#lost(flood('sent more than it may'));
      },
      unreadable: () => {
        this.garbled += 1;
      },
      lost: (error) => {
        this.garbled += 1;
        this.#lost(failureOf(error));
      },
      maySend: () => {
        this.#datagrams += 1;
        return this.#datagrams <= datagramsPerRequestMax;
      },
    });
  }
}

/** Failures of a request to which nothing came. */
const unheard: ReadonlySet<Failure['kind']> = new Set(['timeout', 'unsendable', 'files-spent']);

const over: Failure = { kind: 'over', words: 'the time for this node was over' };

function flood(words: string): Failure {
  return { kind: 'flood', words };
}
