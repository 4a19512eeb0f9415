/**
 * Wall-clock times as journals write them, ISO 8601 in UTC ("2026-03-02T09:30:00.000Z"), taken apart without a clock:
 * Gregorian calendar, no leap seconds.
 */
type Parts = { year: number; month: number; day: number; hour: number; minute: number; second: number };

const DAYS_BEFORE_MONTH = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334];

/** Is there such a day and such a time of it? */
export function isDate(text: string): boolean {
  const { year, month, day, hour, minute, second } = partsOf(text);
  if (!(month >= 1 && month <= 12 && hour < 24 && minute < 60 && second < 60)) return false;
  const next = month === 12 ? 365 : (DAYS_BEFORE_MONTH[month] ?? 0);
  const length = next - (DAYS_BEFORE_MONTH[month - 1] ?? 0) + (month === 2 && isLeap(year) ? 1 : 0);
  return day >= 1 && day <= length;
}

/** Seconds from one time to another, negative where the other is before. Both must be dates. */
export function secondsBetween(from: string, to: string): number {
  return secondsOf(to) - secondsOf(from);
}

/** Seconds since the first day of the year 0, whole ones. */
function secondsOf(text: string): number {
  const { year, month, day, hour, minute, second } = partsOf(text);
  const before = year - 1;
  const leapDays = Math.floor(before / 4) - Math.floor(before / 100) + Math.floor(before / 400);
  const dayOfYear = (DAYS_BEFORE_MONTH[month - 1] ?? 0) + day + (month > 2 && isLeap(year) ? 1 : 0);
  return (((365 * year + leapDays + dayOfYear) * 24 + hour) * 60 + minute) * 60 + second;
}

function partsOf(text: string): Parts {
  const [year = 0, month = 0, day = 0, hour = 0, minute = 0, second = 0] = text.split(/[-T:.Z]/).map(Number);
  return { year, month, day, hour, minute, second };
}

function isLeap(year: number): boolean {
  return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
}
