import { mkdir, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { must } from './execute.ts';

/**
 * Folder of a Node of that major version: of the running one, else of the registry's package `node`,
 * installed into a folder of its own. Its install script, which fetches the program of this machine's
 * kind, is the one thing that is allowed to run there.
 */
export async function nodeFolder(major: number, below: string): Promise<string> {
  if (major === runningMajor) return dirname(process.execPath);
  const cwd = join(below, `node-${major}`);
  await mkdir(cwd);
  const manifest = { private: true, allowScripts: { node: true } };
  await writeFile(join(cwd, 'package.json'), JSON.stringify(manifest));
  await must('npm', ['install', '--prefer-offline', `node@${major}`], { cwd });
  return join(cwd, 'node_modules/node/bin');
}

/** Major version of the Node that runs this. */
export const runningMajor = Number(/^\d+/.exec(process.versions.node)?.[0]);

/** Versions to try: the running one, and those of PACK_NODES, as `22 24`. */
export const majors: readonly number[] = [
  ...new Set([
    runningMajor,
    ...(process.env['PACK_NODES'] ?? '').split(/\s+/).filter(Boolean).map(Number),
  ]),
];
