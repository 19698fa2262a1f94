import { join } from 'node:path';
import type { Io } from '../../src/cli/io.ts';
import type { RunningSite } from './start-site.ts';

/** The process as `real` has it, with the simulated office in the place of the network. */
export function siteIo(site: RunningSite, real: Io): Io {
  return {
    ...real,
    env: { ...real.env, SSH_AUTH_SOCK: undefined },
    own: { home: site.home, userName: 'auditor' },
    locate: site.locate,
    resolve: site.resolve,
    findSecret: site.findSecret,
    sshSettings: { configFiles: [join(site.home, '.ssh/config')], openSsh: false },
  };
}
