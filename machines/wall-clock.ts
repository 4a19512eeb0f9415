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
  return day >= 1 && day <= daysOf(year, month);
}

/** Seconds from one time to another, negative where the other is before. Both must be dates. */
export function secondsBetween(from: string, to: string): number {
  return secondsOf(to) - secondsOf(from);
}

/** The day, "2026-03-02", so many whole days after a time's day in UTC. */
export function dayAfter(from: string, days: number): string {
  let { year, month, day } = partsOf(from);
  day += days;
  for (let length = daysOf(year, month); day > length; length = daysOf(year, month)) {
    day -= length;
    month += 1;
    if (month > 12) {
      month = 1;
      year += 1;
    }
  }
  const padded = (value: number, width: number) => String(value).padStart(width, '0');
  return `${padded(year, 4)}-${padded(month, 2)}-${padded(day, 2)}`;
}

function daysOf(year: number, month: number): number {
  const next = month === 12 ? 365 : (DAYS_BEFORE_MONTH[month] ?? 0);
  return next - (DAYS_BEFORE_MONTH[month - 1] ?? 0) + (month === 2 && isLeap(year) ? 1 : 0);
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
