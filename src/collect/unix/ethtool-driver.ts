import { firstGroup } from './text.ts';

/** Reads the driver's name out of `ethtool -i PORT`; undefined where none is printed. */
export function parseEthtoolDriver(output: string): string | undefined {
  return firstGroup(output, /^driver: +([\w.-]{1,64})[ \t]*$/m);
}

/** Reads the driver's version, as it words it; drivers of the kernel give that of the kernel. */
export function parseEthtoolDriverVersion(output: string): string | undefined {
  return firstGroup(output, /^version: +(\S[^\n]{0,127})$/m)?.trim();
}
