import { setMaxListeners } from 'node:events';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { processIo } from '../../src/cli/process-io.ts';
import { run } from '../../src/cli/run.ts';

// The command line as a process of its own that says at its end how much memory it had at its peak: the
// kernel's count for a whole life (getrusage) begins with that of whoever started the process. Its SSH
// configuration is that of HOME alone, read by `ssh -G -F`.

process.on('exit', () => {
  const status = readFileSync('/proc/self/status', 'utf8');
  writeFileSync(process.env['PEAK_FILE'] ?? '', /^VmHWM:\s+(\d+) kB$/m.exec(status)?.[1] ?? '');
});
const { signal } = new AbortController();
setMaxListeners(0, signal);
const home = process.env['HOME'] ?? '';
const io = {
  ...processIo(signal, () => {}),
  own: { home, userName: 'auditor' },
  sshSettings: { configFiles: [join(home, '.ssh/config')] },
};
process.exitCode = await run(process.argv.slice(2), io);
