import type { NodeReadFacts } from '../../src/facts/node-facts.ts';
import type { MountReading, RouteReading, RouteRow } from '../../src/facts/survey.ts';
import type { DescribedFit, DescribedPort } from '../unix-output/described-host.ts';

/** A Windows host as plain data; what it leaves out is printed as Windows prints it. */
export interface DescribedWindows {
  readonly facts: NodeReadFacts & { readonly systemKind: 'windows' };
  readonly ports: readonly DescribedPort[];
  readonly routes?: readonly RouteReading[];
  readonly routeTable?: readonly RouteRow[];
  readonly mounts?: readonly MountReading[];
  readonly fits?: readonly DescribedFit[];
  /** The account may ask nothing of the management interface, as one without rights over SSH. */
  readonly plainAccount?: boolean;
}
