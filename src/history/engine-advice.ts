import { createRequire } from 'node:module';
import { shellWord } from '../schedule/shell-word.ts';

const require = createRequire(import.meta.url);

/**
 * What to do where no SQLite can be loaded, as one line for the operator. `folder` is that in whose
 * `node_modules` the package better-sqlite3 lies; empty: it is not installed.
 */
export function engineAdvice(folder: string = packageFolder()): string {
  // Without the folder, npm would find nothing to build where the operator stands, and call that success.
  const [seen, remedy] =
    folder === ''
      ? ['is not installed', "install hopgauge again with 'npm install --include=optional'"]
      : [
          'is not built',
          `run 'npm --prefix ${shellWord(folder)} rebuild better-sqlite3' with a compiler (it takes some minutes)`,
        ];
  return (
    'no history on this machine: this Node has no SQLite of its own and the package ' +
    `better-sqlite3 ${seen}; ${remedy}, or use Node 24 or newer`
  );
}

function packageFolder(): string {
  try {
    const file = require.resolve('better-sqlite3');
    return /^(.*)[\\/]node_modules[\\/]better-sqlite3[\\/]/.exec(file)?.[1] ?? '';
  } catch {
    return '';
  }
}
