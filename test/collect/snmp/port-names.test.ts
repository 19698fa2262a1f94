import { describe, expect, it } from 'vitest';
import { type NamedRow, portNames } from '../../../src/collect/snmp/port-names.ts';

const row = (ifIndex: number, ifName: string, ifDescr: string): NamedRow => ({
  ifIndex,
  ifName,
  ifDescr,
});

describe('portNames', () => {
  it.each([
    ['ifName', [row(1, 'xg1', 'Port 1')], ['xg1']],
    ['ifDescr where there is no ifName', [row(1, '', 'Port 1')], ['Port 1']],
    [
      'ifDescr where ifName is shared',
      [row(1, 'port', 'Port 1'), row(2, 'port', 'Port 2'), row(3, 'xg3', 'Port 3')],
      ['Port 1', 'Port 2', 'xg3'],
    ],
    [
      'the index where both are shared',
      [row(1, 'port', 'Ethernet'), row(10101, 'port', 'Ethernet')],
      ['port#1', 'port#10101'],
    ],
    [
      'the index where ifDescr is another port’s name',
      [row(1, 'a', 'b'), row(2, 'a', 'c'), row(3, 'b', 'd')],
      ['a#1', 'c', 'b'],
    ],
    ['the index alone where there is neither', [row(7, '', ''), row(8, '', '')], ['#7', '#8']],
    ['the index alone for one row with neither', [row(7, '', '')], ['#7']],
    ['none', [], []],
  ])('%s', (_, rows, names) => {
    expect([...portNames(rows).values()]).toEqual(names);
  });
});
