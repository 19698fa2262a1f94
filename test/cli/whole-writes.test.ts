import { Writable } from 'node:stream';
import { expect, it } from 'vitest';
import { settledOn } from '../../src/cli/whole-writes.ts';

/** A stream that answers each write, but the empty ones, with the next of these codes. */
function streamOf(codes: (string | undefined)[]): Writable {
  const stream: Writable = new Writable({
    autoDestroy: false,
    write: (chunk: Buffer, _, done) => {
      const code = chunk.length === 0 ? undefined : codes.shift();
      done();
      // The stream of a file lives on after a fault (seen with Node 20.20), unlike one made here.
      if (code !== undefined) stream.emit('error', Object.assign(new Error(code), { code }));
    },
  });
  return stream;
}

it('tells a fault to who asks next, and to nobody later', async () => {
  const stream = streamOf([undefined, 'ENOSPC', 'EIO', undefined, 'EPIPE']);
  const settled = settledOn(stream);
  const after = async (...texts: string[]) => {
    for (const text of texts) stream.write(text);
    return settled();
  };
  expect(await after('tonight')).toBeUndefined();
  expect(await after('tomorrow', 'and more')).toBe('ENOSPC');
  expect(await after('the night after')).toBeUndefined();
  // A reader that went away.
  expect(await after('later')).toBeUndefined();
});
