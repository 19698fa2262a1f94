import { firstGroup } from './text.ts';

/** What `sysctl dev.NAME.UNIT` of FreeBSD tells of a port's driver. */
export interface FreebsdDriver {
  readonly name: string;
  /** As it words it. Untrusted. */
  readonly version?: string;
}

/** Reads the answers of `sysctl` for one device; undefined where there is no such device. */
export function parseFreebsdDriver(output: string): FreebsdDriver | undefined {
  const name = firstGroup(output, /^dev\.\w+\.\d+\.%driver: (\w{1,64})[ \t]*$/m);
  if (name === undefined) return undefined;
  const version = firstGroup(output, /^dev\.\w+\.\d+\.iflib\.driver_version: (\S.*)$/m);
  return { name, ...(version === undefined ? {} : { version }) };
}
