import { completeWithin, type Nightly, spread, twoDigits, watchHour } from './nightly.ts';
import { systemdCommand } from './systemd-command.ts';

/** A unit file of systemd. */
export interface UnitFile {
  /** Where it belongs, absolute. */
  readonly path: string;
  readonly text: string;
}

const folder = '/etc/systemd/system';
const store = '/var/lib/hopgauge/history.sqlite';
/** What systemd gives beyond the deadline of the audit itself, in seconds. */
const graceSeconds = 60;
/** The watch reads one row of the store; in seconds. */
const watchSeconds = 60;

/** The audit with its timer, and the watch over it with a timer of its own. */
export function systemdUnits(nightly: Nightly): readonly UnitFile[] {
  const { program, intent, deadline, deadlineSeconds, hour, minute } = nightly;
  const audit = ['audit', intent, '--changes', '--store', store, '--deadline', deadline];
  const watch = ['history', '--intent', intent, '--store', store];
  return [
    service(nightly, {
      name: 'hopgauge-audit',
      about: 'nightly audit of MTU, speed and duplex',
      command: [...program, ...audit],
      seconds: deadlineSeconds + graceSeconds,
      // What was found is no failure of the job: systemctl --failed then names only real ones.
      more: [
        'SuccessExitStatus=1 2',
        '# Secrets that the intent names, as lines NAME=value. Read by systemd, so only for root.',
        'EnvironmentFile=-/etc/hopgauge/secrets.env',
      ],
    }),
    timer('hopgauge-audit', [
      `OnCalendar=*-*-* ${twoDigits(hour)}:${twoDigits(minute)}:00`,
      `RandomizedDelaySec=${spread}`,
      '# A night on which this machine was off is made up for.',
      'Persistent=true',
    ]),
    service(nightly, {
      name: 'hopgauge-watch',
      about: `says whether an audit was complete within ${completeWithin}`,
      command: [...program, ...watch, '--complete-within', completeWithin],
      seconds: watchSeconds,
      more: [],
    }),
    timer('hopgauge-watch', [
      `OnCalendar=*-*-* ${twoDigits(watchHour(nightly))}:${twoDigits(minute)}:00`,
    ]),
  ];
}

interface Service {
  readonly name: string;
  readonly about: string;
  readonly command: readonly string[];
  readonly seconds: number;
  readonly more: readonly string[];
}

function service({ user }: Nightly, { name, about, command, seconds, more }: Service): UnitFile {
  const lines = [
    '[Unit]',
    `Description=hopgauge: ${about}`,
    'Wants=network-online.target',
    'After=network-online.target',
    '',
    '[Service]',
    'Type=oneshot',
    ...(user === undefined ? [] : [`User=${user}`]),
    `ExecStart=${systemdCommand(command)}`,
    `TimeoutStartSec=${seconds}`,
    ...more,
    ...hardening,
  ];
  return { path: `${folder}/${name}.service`, text: `${lines.join('\n')}\n` };
}

/**
 * As systemd.exec(5) has it. Not among them MemoryDenyWriteExecute, under which no JavaScript runs,
 * and PrivateNetwork. Netlink is what a machine asks its own ports by.
 */
const hardening = [
  'StateDirectory=hopgauge',
  'StateDirectoryMode=0700',
  'UMask=0077',
  'MemoryMax=1G',
  'TasksMax=256',
  'NoNewPrivileges=yes',
  'CapabilityBoundingSet=',
  'AmbientCapabilities=',
  'ProtectSystem=strict',
  '# Keys and known hosts of the account are read, never written.',
  'ProtectHome=read-only',
  'PrivateTmp=yes',
  'PrivateDevices=yes',
  'ProtectClock=yes',
  'ProtectHostname=yes',
  'ProtectKernelLogs=yes',
  'ProtectKernelModules=yes',
  'ProtectKernelTunables=yes',
  'ProtectControlGroups=yes',
  'RestrictAddressFamilies=AF_UNIX AF_INET AF_INET6 AF_NETLINK',
  'RestrictNamespaces=yes',
  'RestrictRealtime=yes',
  'RestrictSUIDSGID=yes',
  'LockPersonality=yes',
  'SystemCallArchitectures=native',
];

function timer(name: string, when: readonly string[]): UnitFile {
  const lines = [
    '[Unit]',
    `Description=hopgauge: begins ${name}.service each day`,
    '',
    '[Timer]',
    ...when,
    '',
    '[Install]',
    'WantedBy=timers.target',
  ];
  return { path: `${folder}/${name}.timer`, text: `${lines.join('\n')}\n` };
}
