import { cp } from 'node:fs/promises';

// The compiler carries only code to dist; the schemas are data that ships beside it.
await cp(
  new URL('../../src/schemas', import.meta.url),
  new URL('../../dist/schemas', import.meta.url),
  {
    recursive: true,
  },
);
