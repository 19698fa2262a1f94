import type { Text } from './io.ts';

/** Least length of a batch but the last, in UTF-16 units. */
const batchLengthMin = 256 * 1024;

/** A text in batches that are worth a write each; one that is whole already is one batch. */
export function* batches(text: Text): Iterable<string> {
  if (typeof text === 'string') {
    yield text;
    return;
  }
  let batch = '';
  for (const piece of text) {
    batch += piece;
    if (batch.length < batchLengthMin) continue;
    yield batch;
    batch = '';
  }
  if (batch !== '') yield batch;
}
