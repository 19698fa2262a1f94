/** What runs one end of a transfer. */
export type TransferTool = 'perl' | 'python3' | 'nc';

/** Shortest transfer, in seconds. */
export const transferSecondsMin = 3;
/** Longest transfer, in seconds. */
export const transferSecondsMax = 30;
/** Connections at once, at most. */
export const transferStreamsMax = 8;
/** Wait for the other end before the load begins, in seconds. */
export const meetSecondsMax = 10;
/** Time for what is still on its way once the sender has stopped, in seconds. */
export const drainSecondsMax = 10;
/** Most bytes that a transfer may be allowed: what 400 Gb/s carry in the longest. */
export const transferBytesMax = 1.5e12;

/** What one end does in a transfer. Who listens and who sends are two things. */
export interface TransferRole {
  /** Begins every line of the answer. */
  readonly marker: string;
  readonly role: 'listen' | 'connect';
  readonly way: 'send' | 'receive';
  /** Literal address of its own, to which it binds. */
  readonly own: string;
  /** Literal address of the other end: the only one that is let in. */
  readonly peer: string;
  /** Port of the listener; 0 for the listener itself: its kernel chooses. */
  readonly port: number;
  /** Random, of this run: who does not begin with it is not let in. */
  readonly token: string;
  readonly streams: number;
  readonly seconds: number;
  readonly bytesMax: number;
  /** Payload follows the token at once: the other end is `nc`, which answers nothing. */
  readonly plain: boolean;
}

/** Bytes that had passed at one end, some ms after the load began. */
export interface TransferTick {
  readonly ms: number;
  readonly bytes: number;
  /** Mean of the kernel's smoothed round trip of all streams. Absent: it tells none. */
  readonly rttUs?: number;
}

/** What a kernel counted of one connection; every field is absent where it does not tell. */
export interface TransferFlow {
  /** Largest user data of one segment. */
  readonly segmentBytes?: number;
  readonly timestamps?: boolean;
  readonly resentSegments?: number;
  /** User data sent, with what was sent again. */
  readonly sentBytes?: number;
  readonly resentBytes?: number;
  /** Time in which there was something to send. */
  readonly busyUs?: number;
  /** Of it, waiting for room at the receiver. */
  readonly windowUs?: number;
  /** Of it, waiting for room in its own send buffer. */
  readonly bufferUs?: number;
}

/** Work of processors while the load lasted, in shares of 1. */
export interface TransferCpu {
  /** Of one core, by the program itself. */
  readonly own?: number;
  /** Busiest core, with everything that ran there. */
  readonly busiest?: number;
  /** All cores together. */
  readonly all?: number;
  readonly cores?: number;
}

/** What one end has told so far. */
export interface EndReport {
  readonly begun: boolean;
  /** As `uname -s` says. */
  readonly system?: string;
  readonly tool?: TransferTool | 'nothing';
  readonly port?: number;
  /** The other end was met: what fails from now on is no matter of who listens. */
  readonly met: boolean;
  /** Least round trip of single bytes, as the program itself took it. */
  readonly echoUs?: number;
  /** Least round trip before the load, as the kernel took it. */
  readonly idleUs?: number;
  readonly ticks: readonly TransferTick[];
  readonly flows: readonly TransferFlow[];
  readonly cpu?: TransferCpu;
  /** Of the receiver: from the first byte to the last. */
  readonly got?: { readonly us: number; readonly bytes: number; readonly cut: boolean };
  /** Of the sender: until it stopped. */
  readonly sent?: { readonly us: number; readonly bytes: number; readonly by: 'time' | 'cap' };
  readonly failed?: { readonly at: string; readonly why: string };
  readonly ended: boolean;
}
