import { spawnSync } from 'node:child_process';
import { expect, it } from 'vitest';
import { collectedWords } from '../../src/cli/nightly-words.ts';

const store = 'postgres://auditor@db.office.example/hopgauge?sslmode=verify-ca&sslrootcert=ca.pem';

/** The words of the command in a line as a shell takes them. */
function wordsOf(line: string): readonly string[] {
  const [, command = ''] = /run (hopgauge fit .*) where both ends/.exec(line) ?? [];
  const ran = spawnSync('sh', ['-c', `printf '%s\\n' ${command}`], { encoding: 'utf8' });
  return ran.stdout.trimEnd().split('\n');
}

it.each(['plotting', "the owner's plots", 'a; b', '$HOME', 'a*'])(
  'a fit of %s can be copied into a shell, with its store',
  (name) => {
    const [line = ''] = collectedWords([name], store);
    expect(wordsOf(line)).toEqual(['hopgauge', 'fit', '--path', name, '--store', store]);
  },
);

it('a plain name stays as it is', () => {
  expect(collectedWords(['plotting'], undefined)[0]).toContain(' --path plotting where ');
});
