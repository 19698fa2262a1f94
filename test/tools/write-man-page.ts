import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { shippedManPage } from './shipped-man-page.ts';

// Part of the build: the page follows the command definitions, so it is not kept in the tree.
const changes = await readFile(new URL('../../CHANGELOG.md', import.meta.url), 'utf8');
const folder = new URL('../../dist/man/', import.meta.url);
await mkdir(folder, { recursive: true });
await writeFile(new URL('hopgauge.1', folder), shippedManPage(changes));
