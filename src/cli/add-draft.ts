import { Argument, type Command, Option } from 'commander';
import { authProtocols, privacyProtocols } from '../intent/types.ts';
import type { Io } from './io.ts';
import type { DraftOptions } from './options.ts';
import type { SetStatus } from './program.ts';

/** The command that writes a first intent from what is there. */
export function addDraft(program: Command, io: Io, setStatus: SetStatus): void {
  program
    .command('draft')
    .description('write a first intent file from what is there')
    .addArgument(
      new Argument('[ADDRESS...]', 'hosts, ACCESS=ADDRESS for others, or local for this machine'),
    )
    .option('--access <FILE>', "a file with 'access:', as in an intent, for ACCESS=ADDRESS")
    .option('--ssh-user <NAME>', 'user to log in as at hosts (default: as ssh itself would)')
    .option('--snmp-user <NAME>', 'SNMPv3 user, for switches=ADDRESS; secrets are looked up')
    .addOption(
      new Option('--snmp-auth <PROTOCOL>', 'of the SNMPv3 user')
        .choices(authProtocols)
        .default('sha256'),
    )
    .addOption(
      new Option('--snmp-privacy <PROTOCOL>', 'of the SNMPv3 user')
        .choices(privacyProtocols)
        .default('aes128'),
    )
    .addOption(
      new Option('--within <PREFIX>', 'follow LLDP to addresses in it; may be repeated')
        .argParser((text: string, before: readonly string[]) => [...before, text])
        .default([], 'nobody is followed'),
    )
    .option(
      '--survey <FILE>',
      'draft from what was saved; with agents in it, give --access or --snmp-user too',
    )
    .option('--onto <FILE>', 'print a patch to this intent instead, with what it lacks')
    .option('--out <FILE>', 'write to FILE, which must not be there yet')
    .option('--show-commands', 'print every address, command and OID; send nothing')
    .option('--quiet', 'print no progress and no summary')
    .addHelpText('after', examples)
    .action(async (addresses: readonly string[], options: DraftOptions) => {
      const { draft } = await import('./commands/draft.ts');
      setStatus(await draft(addresses, options, io));
    });
}

const examples = `
What does not follow from the facts is left as a question, and a fault that is there now (half
duplex, a slow link, two MTUs in one subnet) does not become what is meant: an audit still tells it.
To a node that was only discovered, no password and no community is ever offered: it is read with a
key, where its host key is known, or over SNMPv3 that is signed and encrypted.

Examples:
  hopgauge draft plot-1.office.example vault.office.example --out hopgauge.yaml
  hopgauge draft vault.office.example switches=198.18.0.2 --snmp-user auditor
      the secrets of that user are HOPGAUGE_AUTH and HOPGAUGE_PRIVACY, in the environment or in
      the secrets file
  hopgauge draft --access doors.yaml switches=198.18.0.2 --within 198.18.0.0/24
  hopgauge draft --onto hopgauge.yaml hosts=plot-3.office.example | patch -p0

Exit status: 0 every node was read; 2 one was not, and it is named; where none was, nothing is
written; 64 usage; 73 the file is there already.`;
