import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { parseJson } from '../../src/facts/json.ts';

const root = resolve(import.meta.dirname, '../..');
const read = (file: string) => parseJson(readFileSync(resolve(root, file), 'utf8'));

const named = z.record(z.string(), z.string());
const lock = z
  .object({
    lockfileVersion: z.literal(3),
    packages: z.record(
      z.string(),
      z.object({
        integrity: z.string().optional(),
        resolved: z.string().optional(),
        link: z.boolean().optional(),
        hasInstallScript: z.boolean().optional(),
      }),
    ),
  })
  .parse(read('package-lock.json'));
const manifest = z
  .object({
    dependencies: named,
    devDependencies: named,
    optionalDependencies: named,
    allowScripts: z.record(z.string(), z.boolean()),
  })
  .parse(read('package.json'));
const packages = Object.entries(lock.packages).filter(([path]) => path !== '');

describe('the lock file', () => {
  it('has a SHA-512 of every package', () => {
    expect(packages.length).toBeGreaterThan(200);
    // 64 bytes in base64 (RFC 4648): 86 letters and two of padding.
    const wrong = packages.filter(
      ([, { integrity = '' }]) => !/^sha512-[\w+/]{86}==$/.test(integrity),
    );
    expect(wrong.map(([path]) => path)).toEqual([]);
  });

  it('takes none from elsewhere than the registry', () => {
    const registry = 'https://registry.npmjs.org/';
    const wrong = packages.filter(
      ([, { link, resolved = registry }]) => link === true || !resolved.startsWith(registry),
    );
    expect(wrong.map(([path]) => path)).toEqual([]);
  });

  it('has a decision for each package that would run a script when it is installed', () => {
    const names = packages
      .filter(([, { hasInstallScript }]) => hasInstallScript === true)
      .map(([path]) => path.replace(/^.*node_modules\//, ''));
    expect(names).toContain('better-sqlite3');
    // Of macOS alone, and never installed elsewhere; npm does not ask for it here.
    const undecided = names.filter((name) => manifest.allowScripts[name] === undefined);
    expect(undecided.filter((name) => name !== 'fsevents')).toEqual([]);
    const allowed = Object.entries(manifest.allowScripts).filter(([, is]) => is);
    expect(allowed.map(([name]) => name)).toEqual(['better-sqlite3']);
  });
});

it('every version that the package names is exact', () => {
  const { dependencies, devDependencies, optionalDependencies } = manifest;
  const all = Object.entries({ ...dependencies, ...devDependencies, ...optionalDependencies });
  expect(all.length).toBeGreaterThan(30);
  expect(all.filter(([, version]) => !/^\d+\.\d+\.\d+(-[\w.]+)?$/.test(version))).toEqual([]);
});
