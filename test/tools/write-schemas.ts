import { mkdir, writeFile } from 'node:fs/promises';
import { schemaText, shippedSchemas } from './schemas.ts';

const folder = new URL('../../src/schemas/', import.meta.url);

await mkdir(folder, { recursive: true });
for (const schema of shippedSchemas) {
  await writeFile(new URL(schema.file, folder), schemaText(schema));
  process.stdout.write(`src/schemas/${schema.file}\n`);
}
