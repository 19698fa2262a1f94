import { checkedAddress, checkedMarker } from '../collect/unix/literal.ts';
import { ncProgram } from './transfer-nc.ts';
import { perlProgram } from './transfer-perl.ts';
import { pythonProgram } from './transfer-python.ts';
import { programEnd } from './transfer-starter.ts';
import {
  drainSecondsMax,
  meetSecondsMax,
  type TransferRole,
  type TransferTool,
  transferBytesMax,
  transferSecondsMax,
  transferStreamsMax,
} from './transfer-types.ts';

/** Bytes that `dd` moves at once. */
const blockBytes = 65_536;

/**
 * The text that makes a waiting host one end of a transfer: one line of validated literals before a
 * constant program.
 *
 * @throws on anything that may not stand in it: a bug of the caller
 */
export function transferProgram(tool: TransferTool, asked: TransferRole): string {
  const role = checked(asked);
  if (tool === 'nc') return `${ncLine(role)}\n${ncProgram}`;
  const pairs: readonly (readonly [string, string | number])[] = [
    ['m', role.marker],
    ['role', role.role],
    ['way', role.way],
    ['own', role.own],
    ['peer', role.peer],
    ['port', role.port],
    ['token', role.token],
    ['streams', role.streams],
    ['seconds', role.seconds],
    ['cap', role.bytesMax],
    ['wait', meetSecondsMax],
    ['drain', drainSecondsMax],
    ['plain', role.plain ? 1 : 0],
  ];
  const written = pairs.map(([name, value]) => {
    const literal = typeof value === 'number' ? String(value) : `'${value}'`;
    return tool === 'perl' ? `${name}=>${literal}` : `${name}=${literal}`;
  });
  const line =
    tool === 'perl' ? `our %P=(${written.join(',')});` : `P = dict(${written.join(', ')})`;
  return `${line}\n${tool === 'perl' ? perlProgram : pythonProgram}\n${programEnd}\n`;
}

function ncLine(role: TransferRole): string {
  const words = {
    R: role.role,
    A: role.own,
    B: role.peer,
    P: role.port,
    T: role.token,
    D: role.seconds,
    C: Math.max(1, Math.floor(role.bytesMax / blockBytes)),
    L: meetSecondsMax + role.seconds + drainSecondsMax,
  };
  return Object.entries(words)
    .map(([name, value]) => `${name}='${value}'`)
    .join('; ');
}

function checked(role: TransferRole): TransferRole {
  checkedMarker(role.marker);
  checkedAddress(role.own);
  checkedAddress(role.peer);
  if (!/^[0-9a-f]{32}$/.test(role.token)) throw new Error('a token is no 32 hexadecimal digits');
  inRange('port', role.port, 0, 65_535);
  inRange('streams', role.streams, 1, transferStreamsMax);
  inRange('seconds', role.seconds, 1, transferSecondsMax);
  inRange('bytes', role.bytesMax, 1, transferBytesMax);
  if (role.role !== 'listen' && role.role !== 'connect') throw new Error('no such role');
  if (role.way !== 'send' && role.way !== 'receive') throw new Error('no such way');
  return role;
}

function inRange(what: string, value: number, least: number, most: number): void {
  if (Number.isInteger(value) && value >= least && value <= most) return;
  throw new Error(`${what} is no whole number from ${least} to ${most}`);
}
