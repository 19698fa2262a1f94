import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isCalendarDate } from '../../src/intent/calendar-date.ts';

describe('isCalendarDate', () => {
  it.each([
    ['2027-03-31', true],
    ['2024-02-29', true],
    ['2000-02-29', true],
    ['1900-02-29', false],
    ['2027-02-29', false],
    ['2027-04-31', false],
    ['2027-00-10', false],
    ['2027-13-01', false],
    ['2027-01-00', false],
    ['27-01-01', false],
    ['2027-1-1', false],
    ['2027-01-01T00:00:00Z', false],
  ])('%s: %s', (text, expected) => {
    expect(isCalendarDate(text)).toBe(expected);
  });

  it('agrees with the ISO 8601 reading of the JavaScript Date', () => {
    const digits = (most: number, width: number) =>
      fc.nat(most).map((number) => String(number).padStart(width, '0'));
    fc.assert(
      fc.property(digits(9999, 4), digits(13, 2), digits(32, 2), (year, month, day) => {
        const text = `${year}-${month}-${day}`;
        const date = new Date(`${text}T00:00:00Z`);
        // An impossible day of a possible month rolls over, or is no date at all.
        const real = !Number.isNaN(date.getTime()) && date.toISOString().startsWith(text);
        expect(isCalendarDate(text)).toBe(real);
      }),
    );
  });
});
