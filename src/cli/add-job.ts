import { type Command, Option } from 'commander';

const facilities = [0, 1, 2, 3, 4, 5, 6, 7].map((digit) => `local${digit}`);

/** Adds what a command takes that runs by itself at night. */
export function addJob(command: Command): Command {
  return command
    .option('--deadline <AGE>', 'end by then, 30m say; what was not read is undetermined')
    .option('--spread <AGE>', 'first wait a random time up to this, 10m say')
    .option('--syslog <WHERE>', 'one message per finding: local, udp://HOST:514, tcp://HOST:601')
    .addOption(
      new Option('--syslog-facility <NAME>', 'facility of the messages (local0)').choices(
        facilities,
      ),
    )
    .option('--mail-to <ADDRESS>', 'with --changes: mail what moved, nothing while nothing does')
    .option('--mail-from <ADDRESS>', 'sender of the mail')
    .option('--smtp <SERVER>', 'smtp://HOST:587 with STARTTLS, or smtps://HOST:465')
    .option('--smtp-user <NAME>', 'account at the mail server')
    .option('--smtp-secret <SECRET>', 'name of the secret that is its password')
    .option('--smtp-ca <FILE>', 'certificates to trust instead of the usual ones, PEM');
}
