import { mediaPhysics } from './bsd-physics.ts';
import type { Ifconfig } from './ifconfig-bsd.ts';
import type { LineState } from './line-facts.ts';
import type { LinePhysics } from './port-physics.ts';

/** Facts of a port of a macOS host that tell why its line is slow. */
export function macosPhysics(port: Ifconfig, state: LineState): LinePhysics {
  const { facts, option } = mediaPhysics(port.media, state, 'macOS');
  const pause = option('flow-control');
  const saving = option('energy-efficient-ethernet');
  return { ...facts, pauseRx: pause, pauseTx: pause, eeeEnabled: saving, eeeActive: saving };
}
