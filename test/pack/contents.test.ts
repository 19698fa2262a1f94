import { readdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, it } from 'vitest';
import { z } from 'zod';
import { parseJson } from '../../src/facts/json.ts';
import { execute } from './execute.ts';

const root = resolve(import.meta.dirname, '../..');

function filesOf(folder: string, ending: string): string[] {
  return readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith(ending))
    .map((name) => `${folder}/${name}`);
}

// The build is made before, by `verify` or by `pack:check`.
it('the package has the built code, policies, schemas, the man page and four texts, no more', async () => {
  const { stdout } = await execute('npm', ['pack', '--dry-run', '--json', '--ignore-scripts'], {
    cwd: root,
  });
  const packed = z
    .array(z.object({ files: z.array(z.object({ path: z.string() })) }))
    .parse(parseJson(stdout))
    .flatMap(({ files }) => files.map(({ path }) => path));
  const built = filesOf('src', '.ts').map((path) =>
    path.replace(/^src/, 'dist').replace(/\.ts$/, '.js'),
  );
  const schemas = filesOf('src/schemas', '.json').map((path) => path.replace(/^src/, 'dist'));
  const texts = ['CHANGELOG.md', 'LICENSE', 'README.md', 'package.json'];
  expect(schemas.length).toBeGreaterThan(5);
  expect(packed.sort()).toEqual(
    [...built, ...schemas, ...filesOf('policies', '.yaml'), 'dist/man/hopgauge.1', ...texts].sort(),
  );
});
