import type { CommandUsage, ProgramUsage, ValueUsage } from '../../src/usage/types.ts';

/** A value that takes a file. */
const file: ValueUsage = {
  name: 'FILE',
  offer: { kind: 'file' },
  required: true,
  variadic: false,
};

function option(flags: string, about: string, value?: ValueUsage) {
  const [name = ''] = flags.split(' ');
  return { name, flags, about, aboutWhole: about, ...(value === undefined ? {} : { value }) };
}

const none = { arguments: [], options: [], after: '', children: [] };

const commands: readonly CommandUsage[] = [
  { ...none, path: [], about: 'Sounds depths.', synopsis: 'COMMAND', children: ['sound', 'log'] },
  {
    ...none,
    path: ['sound'],
    about: "the quay's depth: [now]",
    synopsis: '[options] [CHART] [UNIT]',
    arguments: [
      { ...file, name: 'CHART', about: 'a chart', required: false },
      {
        name: 'UNIT',
        about: 'of the depth',
        offer: { kind: 'words', words: ['fathom', 'metre'] },
        required: false,
        variadic: false,
      },
    ],
    options: [
      option('--from <FILE>', "the boat's \\own: [log]", file),
      option('--into <DIR>', 'a folder', { ...file, name: 'DIR', offer: { kind: 'folder' } }),
      option('--tide [STATE]', 'at that tide', {
        name: 'STATE',
        offer: { kind: 'words', words: ['ebb', 'flood'] },
        required: false,
        variadic: false,
      }),
      option('--by <NAME>', 'who', { ...file, name: 'NAME', offer: { kind: 'nothing' } }),
      option('--dry', 'over no water'),
    ],
  },
  { ...none, path: ['log'], about: 'the log', synopsis: 'COMMAND', children: ['read', 'sign'] },
  {
    ...none,
    path: ['log', 'read'],
    about: 'read it',
    synopsis: '[DAY...]',
    options: [option('--dusk', 'to dusk')],
    arguments: [
      {
        name: 'DAY',
        about: 'days',
        offer: { kind: 'words', words: ['monday', 'tuesday'] },
        required: false,
        variadic: true,
      },
    ],
  },
  { ...none, path: ['log', 'sign'], about: 'sign it', synopsis: '' },
];

/**
 * A command line with one of everything that definitions may have: commands below a command, values
 * that may be left out, files, folders, words, and texts full of what shells and roff take for theirs.
 */
export const sketch: ProgramUsage = { name: 'hopgauge', commands };
