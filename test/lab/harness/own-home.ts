import { join } from 'node:path';
import { processIo } from '../../../src/cli/process-io.ts';
import { run } from '../../../src/cli/run.ts';

// The real command line with a home folder of a test: the first word is the folder. OpenSSH is left
// out, since it takes the home of the account file, whatever it is told.

const [home = '', ...argv] = process.argv.slice(2);
const stop = new AbortController();
process.once('SIGTERM', () => stop.abort());
process.once('SIGINT', () => stop.abort());
process.exitCode = await run(argv, {
  ...processIo(stop.signal, () => stop.abort()),
  own: { home, userName: 'auditor' },
  sshSettings: { configFiles: [join(home, '.ssh/config')], openSsh: false },
});
