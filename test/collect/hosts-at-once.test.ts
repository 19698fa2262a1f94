import { describe, expect, it } from 'vitest';
import { hostsAtOnce, ownLimits } from '../../src/collect/hosts-at-once.ts';

/** A line of proc_pid_limits(5) as the kernel writes it, among others. */
const limits = (most: string) =>
  `Limit                     Soft Limit           Hard Limit           Units     
Max processes             31000                31000                processes 
Max open files            ${most.padEnd(20)} 4096                 files     
Max locked memory         8388608              8388608              bytes     
`;

describe('hosts read at one time', () => {
  it.each([
    ['256', 48],
    ['152', 22],
    ['1024', 240],
    ['64', 1],
    ['8', 1],
    ['unlimited', Number.POSITIVE_INFINITY],
  ])('where %s files may be open: %d', (most, hosts) => {
    expect(hostsAtOnce(limits(most))).toBe(hosts);
  });

  it('are as many as are wanted where nothing tells of a limit', () => {
    expect(hostsAtOnce(undefined)).toBe(Number.POSITIVE_INFINITY);
  });

  it.runIf(process.platform === 'linux')('are told by the system (needs Linux)', () => {
    expect(ownLimits()).toMatch(/^Max open files +\d+ /m);
  });
});
