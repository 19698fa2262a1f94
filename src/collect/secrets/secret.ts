import { inspect } from 'node:util';
import type { Secret } from '../types.ts';

/** What a secret shows of itself everywhere but in `reveal()`. */
export const secretMask = '[secret]';

/** Wraps a secret so that printing, logging, inspecting or serialising it shows only a mask. */
export function makeSecret(value: string): Secret {
  // The value lives in the closure alone: no property, own or private, leads to it.
  return Object.freeze({
    reveal: () => value,
    toString: () => secretMask,
    toJSON: () => secretMask,
    [Symbol.toPrimitive]: () => secretMask,
    [inspect.custom]: () => secretMask,
  });
}
