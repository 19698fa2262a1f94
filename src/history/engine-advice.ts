import { createRequire } from 'node:module';

const require = createRequire(import.meta.url);

/** What to do where no SQLite can be loaded, as one line for the operator. */
export function engineAdvice(isPackageThere: boolean = isInstalled()): string {
  const [seen, remedy] = isPackageThere
    ? ['is not built', "run 'npm rebuild better-sqlite3' with a compiler"]
    : ['is not installed', "install hopgauge again with 'npm install --include=optional'"];
  return (
    'no history on this machine: this Node has no SQLite of its own and the package ' +
    `better-sqlite3 ${seen}; ${remedy}, or use Node 24 or newer`
  );
}

function isInstalled(): boolean {
  try {
    require.resolve('better-sqlite3');
    return true;
  } catch {
    return false;
  }
}
