import type { Nightly } from '../../src/schedule/nightly.ts';

/** The night of the office. */
export const night: Nightly = {
  program: ['/usr/bin/node', '/usr/local/lib/node_modules/hopgauge/dist/cli/main.js'],
  intent: '/etc/hopgauge/saltmarsh.yaml',
  hour: 2,
  minute: 0,
  user: 'auditor',
  deadline: '30m',
  deadlineSeconds: 1800,
};

/** Words that a path may hold and that some reader of a timer takes for something else. */
export const oddWords = [
  'plain',
  'two words',
  "the owner's",
  'a "quoted" one',
  'a \\ between',
  '100 %',
  '%h',
  '%%',
  '$HOME',
  '$' + '{HOME}',
  '$(id)',
  '`id`',
  'a;b',
  '#1',
  'ü ω',
  '*',
  '!',
];
