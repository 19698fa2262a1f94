import { constants, deflateSync, inflateSync } from 'node:zlib';
import { parseJson } from '../facts/json.ts';

/** Largest state of one node when unpacked, in bytes; a store is a file that others could write. */
const unpackedBytesMax = 256 * 1024 * 1024;

/** A value as compressed JSON. Speed before size: a night packs every node. */
export function pack(value: unknown): Uint8Array {
  return deflateSync(JSON.stringify(value), { level: constants.Z_BEST_SPEED });
}

/** What was packed; throws where it is no such thing. */
export function unpack(bytes: Uint8Array): unknown {
  return parseJson(inflateSync(bytes, { maxOutputLength: unpackedBytesMax }).toString('utf8'));
}
