import { deflateRawSync } from 'node:zlib';
import type { LaterMarkup } from './later-markup.ts';
import { Markup } from './markup.ts';
import type { PackedColumn } from './packed-facts.ts';

/** What the script of the page unpacks when something is opened. */
export interface PackedData {
  /** Facts by the name of the table that shows the subjects, in the order of its rows. */
  readonly facts: Readonly<Record<string, readonly PackedColumn[]>>;
  /** Finished markup by the id of the element that it fills. */
  readonly later: LaterMarkup;
}

/** Level of compression: the best that zlib has. */
const level = 9;

/**
 * Data for the script, as JSON in DEFLATE (RFC 1951) in base64 (RFC 4648), in an element that no
 * browser runs. Its alphabet can close no element.
 */
export function packedData({ facts, later }: PackedData): Markup {
  const texts = Object.fromEntries([...later].map(([id, { text }]) => [id, text]));
  const json = JSON.stringify({ facts, later: texts });
  const packed = deflateRawSync(Buffer.from(json), { level }).toString('base64');
  return new Markup(`<script type="application/octet-stream" id="packed">${packed}</script>`);
}
