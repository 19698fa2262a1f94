import { join } from 'node:path';
import { processIo } from '../../src/cli/process-io.ts';
import { run } from '../../src/cli/run.ts';

// The command line as a process of its own, with the SSH settings of HOME alone: `ssh -G` would read
// those of the account.

const home = process.env['HOME'] ?? '';
const stop = new AbortController();
process.once('SIGTERM', () => stop.abort());
const io = {
  ...processIo(stop.signal, () => {}),
  own: { home, userName: 'auditor' },
  sshSettings: { configFiles: [join(home, '.ssh/config')], openSsh: false },
};
process.exitCode = await run(process.argv.slice(2), io);
