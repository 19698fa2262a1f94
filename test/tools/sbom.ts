import { execFile } from 'node:child_process';
import { copyFile, mkdir, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';

const root = resolve(import.meta.dirname, '../..');
const executed = promisify(execFile);

/**
 * The bill of materials of what an installation brings, CycloneDX 1.5 as JSON, made by npm from the
 * lock file alone. The packages of development are taken out of a copy first: told to omit them, npm
 * leaves out what they and the product both need. The copy lies in a folder of the package's name,
 * since npm calls the root after its folder.
 */
export async function makeSbom(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'hopgauge-sbom-'));
  const copy = join(folder, 'hopgauge');
  const npm = (...argv: string[]) =>
    executed('npm', argv, { cwd: copy, maxBuffer: 64 * 1024 * 1024, timeout: 120_000 });
  try {
    await mkdir(copy);
    for (const file of ['package.json', 'package-lock.json']) {
      await copyFile(join(root, file), join(copy, file));
    }
    await npm('pkg', 'delete', 'devDependencies');
    await npm('install', '--package-lock-only', '--ignore-scripts', '--offline');
    const form = ['--sbom-format', 'cyclonedx', '--sbom-type', 'application'];
    const { stdout } = await npm('sbom', '--package-lock-only', ...form);
    return stdout;
  } finally {
    await rm(folder, { recursive: true });
  }
}
