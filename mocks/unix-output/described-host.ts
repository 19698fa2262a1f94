import type { HostPortKind } from '../../src/collect/unix/linux-kind.ts';
import type { NodeReadFacts } from '../../src/facts/node-facts.ts';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import type {
  ForwardingReading,
  MountReading,
  RouteReading,
  RouteRow,
  SessionReading,
} from '../../src/facts/survey.ts';

/** One port of a described host: its name and the facts that reading it shall give. */
export interface DescribedPort extends PortReadFacts {
  readonly name: string;
  readonly kind: HostPortKind;
}

/** What a described host answers to pings of some size with "don't fragment" set. */
export interface DescribedFit {
  readonly to: string;
  /** Largest IP packet that comes back, in bytes; 0: none does. */
  readonly passesBytes: number;
  /** What a larger one meets: nothing, the host's own interface, or a router that speaks. */
  readonly beyond: 'silence' | 'own-interface' | 'router';
  /** Address of that router. */
  readonly router?: string;
}

/** A host as plain data, such as JSON; what it leaves out is printed as systems print it. */
export interface DescribedHost {
  readonly facts: NodeReadFacts & { readonly systemKind: 'linux' | 'macos' | 'freebsd' };
  readonly ports: readonly DescribedPort[];
  /**
   * Linux only: what tells of its ports. `json`: a new `ip`, the usual; `text`: an old one;
   * `busybox`; or no `ip` at all, with one of the two forms of `ifconfig`.
   */
  readonly tools?: 'json' | 'text' | 'busybox' | 'ifconfig-old' | 'ifconfig-new';
  readonly routes?: readonly RouteReading[];
  /** Absent: the host does not tell it. */
  readonly routeTable?: readonly RouteRow[];
  /** Linux only: other systems do not tell. */
  readonly sessions?: readonly SessionReading[];
  readonly mounts?: readonly MountReading[];
  /** Stations that its bridges have heard; absent: none, where it has a bridge. */
  readonly forwarding?: readonly ForwardingReading[];
  readonly fits?: readonly DescribedFit[];
}
