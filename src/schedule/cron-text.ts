import { cronCommand } from './cron-command.ts';
import { completeWithin, type Nightly, spread, watchHour } from './nightly.ts';
import { shellWord } from './shell-word.ts';

/** Longest command that the cron of Linux and BSD takes, in octets: common practice. */
export const cronOctetsMax = 998;

/** The lines for a table of cron, with what to do with them. */
export function cronText(nightly: Nightly): string {
  const { user, minute, hour } = nightly;
  const account = user === undefined ? '' : `${user} `;
  return [
    ...head(nightly).map((line) => `# ${line}`),
    '#MAILTO=desk@office.example',
    'SHELL=/bin/sh',
    `${minute} ${hour} * * * ${account}${cronAudit(nightly)}`,
    `# Says so when no audit was complete within ${completeWithin}, and else nothing.`,
    `${minute} ${watchHour(nightly)} * * * ${account}${cronWatch(nightly)}`,
    '',
  ].join('\n');
}

/** The command of the audit, as it stands in the table. */
export function cronAudit({ program, intent, deadline }: Nightly): string {
  const time = ['--deadline', deadline, '--spread', spread];
  return cronCommand([...program, 'audit', intent, '--changes', ...time]);
}

/** The command of the watch; cron mails whatever is printed, so good news is held back. */
export function cronWatch({ program, intent }: Nightly): string {
  const watch = ['history', '--intent', intent, '--complete-within', completeWithin];
  return `said=$(${cronCommand([...program, ...watch])} 2>&1) || echo "$said"`;
}

function head({ user, intent }: Nightly): string[] {
  const place =
    user === undefined
      ? ['1. Put the lines below into the table of this account: crontab -e']
      : [
          '1. As root, save this as /etc/cron.d/hopgauge, a name without a dot, mode 0644, owner root.',
        ];
  return [
    'A nightly audit for cron, and a watch over it. Nothing was installed.',
    ...place,
    `2. Secrets that the intent names: ~/.config/hopgauge/secrets of ${user ?? 'this account'}, chmod 600.`,
    `3. Let it know the hosts, once: as ${user ?? 'this account'}, hopgauge access ${shellWord(intent)} --enrol`,
    'Cron mails what is printed, to the account or to MAILTO; nothing is printed while nothing moves.',
  ];
}
