import type { NodeReading } from '../types.ts';
import type { Framed } from './frames.ts';

export function macosReading(_framed: Framed): NodeReading | undefined {
  return undefined;
}
