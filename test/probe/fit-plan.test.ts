import { describe, expect, it } from 'vitest';
import { payloadsOf, planFor, planOf, wantedBytes } from '../../src/probe/fit-plan.ts';

const v4 = '198.18.0.20';
const v6 = 'fd00:5e::20';

/**
 * The floors are what every host takes: RFC 791, section 3.1, and RFC 8200, section 5. What is less
 * than the declared packet: 4 a tag (IEEE 802.1Q), 14 the addresses and the type, 4 the FCS (IEEE
 * 802.3, 3.1.1).
 */
describe('the sizes for a declared packet', () => {
  it.each([
    [9000, v4, [1500, 2000, 9000], [8978, 8982, 8986, 8996], 576],
    [9000, v6, [1500, 2000, 9000], [8978, 8982, 8986, 8996], 1280],
    [1500, v4, [1500], [1478, 1482, 1486, 1496], 576],
    [1492, v4, [1492], [1470, 1474, 1478, 1488], 576],
    [2000, v4, [1500, 2000], [1978, 1982, 1986, 1996], 576],
    [1510, v4, [1500, 1510], [1506], 576],
    [1280, v6, [1280], [], 1280],
    [576, v4, [576], [], 576],
  ])('%i to %s', (bytes, address, risingBytes, nearBytes, floorBytes) => {
    expect(planFor(bytes, address)).toEqual({ risingBytes, nearBytes, floorBytes });
    expect(wantedBytes(planFor(bytes, address))).toBe(bytes);
  });

  it('are those that the operator gave, in order and once each', () => {
    expect(planOf([9000, 1500, 9000], v4)).toEqual({
      risingBytes: [1500, 9000],
      nearBytes: [],
      floorBytes: 576,
    });
    expect(planOf([100], v4).floorBytes).toBe(100);
  });
});

describe('payloads', () => {
  it('are less the headers of each family: RFC 791 and 792, RFC 8200 and 4443', () => {
    const plan = planOf([1500, 9000], v4);
    expect(payloadsOf(plan, v4)).toEqual({
      risingBytes: [1472, 8972],
      nearBytes: [],
      floorBytes: 548,
    });
    expect(payloadsOf(planOf([1500, 9000], v6), v6).risingBytes).toEqual([1452, 8952]);
  });

  it.each([
    ['no size', { risingBytes: [] }],
    ['too many', { risingBytes: [1000, 1001, 1002, 1003, 1004, 1005, 1006] }],
    ['a half', { risingBytes: [1500.5] }],
    ['too small', { risingBytes: [67] }],
    ['too large', { risingBytes: [65_536] }],
    ['not a number', { risingBytes: [Number.NaN] }],
    ['sizes that fall', { risingBytes: [9000, 1500] }],
    ['near sizes that fall', { nearBytes: [8996, 8978] }],
  ])('refuse %s', (_, part) => {
    expect(() => payloadsOf({ ...planFor(9000, v4), ...part }, v4)).toThrow();
  });
});
