const isoDate = /^(\d{4})-(\d{2})-(\d{2})$/;

/** Whether `text` is a real day of the calendar, written `YYYY-MM-DD` (ISO 8601). */
export function isCalendarDate(text: string): boolean {
  const [, year, month, day] = isoDate.exec(text) ?? [];
  if (year === undefined || month === undefined || day === undefined) return false;
  // Day 0 of the next month is the last of this one, in the proleptic Gregorian calendar.
  const last = new Date(Date.UTC(2000, 0, 1));
  last.setUTCFullYear(Number(year), Number(month), 0);
  return (
    Number(month) >= 1 &&
    Number(month) <= 12 &&
    Number(day) >= 1 &&
    Number(day) <= last.getUTCDate()
  );
}
