import { firstGroup } from './text.ts';

/** Reads the driver's name out of `ethtool -i PORT`; undefined where none is printed. */
export function parseEthtoolDriver(output: string): string | undefined {
  return firstGroup(output, /^driver: +([\w.-]{1,64})[ \t]*$/m);
}
