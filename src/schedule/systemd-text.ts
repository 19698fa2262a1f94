import type { Nightly } from './nightly.ts';
import { shellWord } from './shell-word.ts';
import { systemdUnits } from './systemd-units.ts';

/** The unit files one after another, each behind its path, with what to do with them. */
export function systemdText(nightly: Nightly): string {
  const parts = systemdUnits(nightly).map(({ path, text }) => `# ---- ${path}\n${text}`);
  return `${[head(nightly), ...parts].join('\n')}`;
}

function head({ user, intent }: Nightly): string {
  const who = user ?? 'root';
  const lines = [
    'A nightly audit for systemd, and a watch over it. Nothing was installed. As root:',
    '1. Save each part below, from one line ---- to the next, in the file that this line names.',
    '2. Secrets that the intent names: lines NAME=value in /etc/hopgauge/secrets.env, chmod 600.',
    `3. Let ${who} know the hosts, once: as ${who}, hopgauge access ${shellWord(intent)} --enrol`,
    '4. systemctl daemon-reload',
    '5. Once by hand: systemctl start hopgauge-audit; journalctl -u hopgauge-audit',
    '6. systemctl enable --now hopgauge-audit.timer hopgauge-watch.timer',
    'What is new stands in the journal; add --mail-to or --syslog to ExecStart= to be told.',
    'hopgauge-watch fails when no audit was complete: systemctl --failed names it.',
    'A module is read through sudo, which NoNewPrivileges= refuses on this machine itself.',
    ...(who === 'root' ? ['root is not needed: make an account for it and give --user.'] : []),
  ];
  return lines.map((line) => `# ${line}\n`).join('');
}
