import type { PortReadFacts } from '../../facts/port-facts.ts';
import type { PortSurvey } from '../../facts/survey.ts';

/** What was read of the node and the port that a step changes; nothing in it is believed blindly. */
export interface AdviceContext {
  /** `linux`, `macos`, `freebsd`, `windows` or `snmp`; absent: not read, so no command is known. */
  readonly systemKind?: string;
  /** As the system words it; shown, never judged. */
  readonly osVersion?: string;
  /** The node's own name of the port, never an alias of the intent; absent: not known. */
  readonly portName?: string;
  /** Absent: the port was not read. */
  readonly port?: PortReadFacts;
  /** Ports that this one is built on, as they were read. */
  readonly lowerPorts: readonly PortSurvey[];
  /** Ports that stand on this one, as they were read; absent: not looked for. */
  readonly upperPorts?: readonly PortSurvey[];
  /** The port carries the address by which the node is read; absent: not known. */
  readonly carriesWayIn?: boolean;
}

/** Lines that keep a setting over a restart, by the part of the system that keeps them. */
export interface KeptBy {
  readonly by: string;
  readonly lines: readonly string[];
}

/** A job on the node that puts the old value back by itself unless it is cancelled. */
export interface TimedReturn {
  /** To be typed before the step. */
  readonly arm: readonly string[];
  /** To be typed once the check has held. */
  readonly cancel: string;
}

/** What a person can type and look at for one step. hopgauge prints it and never runs it. */
export interface StepAdvice {
  /** Commands that take effect at once; empty where there is none, and `words` say what to do. */
  readonly temporary: readonly string[];
  /** Candidates that keep it over a restart; one of them owns the port. */
  readonly persistent: readonly KeptBy[];
  /** The step in a sentence, for whatever has no command. */
  readonly words: string;
  /** Commands that go back to what was read; empty where it was not read or has no command. */
  readonly undo: readonly string[];
  /** Going back in a sentence. */
  readonly undoWords: string;
  /** What an audit shows right after the step. */
  readonly check: string;
  readonly cautions: readonly string[];
  /** What one finds on the run of the port's link, in its order; absent: nothing is declared. */
  readonly labels?: readonly string[];
  /** Absent: no command puts it back, or what was there before was not read. */
  readonly timedReturn?: TimedReturn;
  /** Why the system has no command that does what is asked, and what to do; absent: that is not so. */
  readonly noCommand?: readonly string[];
}

/** What one system's file knows of a step: the part of the advice that is made of commands. */
export interface SystemAdvice {
  readonly temporary: readonly string[];
  readonly persistent: readonly KeptBy[];
  readonly undo: readonly string[];
  readonly cautions: readonly string[];
  readonly timedReturn?: TimedReturn;
  readonly noCommand?: readonly string[];
}

/** Minutes after which a timed return fires: time to check, short enough to wait for. */
export const returnAfterMinutes = 10;
