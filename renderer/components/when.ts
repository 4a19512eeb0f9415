const WHEN = new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium', timeStyle: 'short' });

/** The wall clock's time of an open line, as people here write it: "25 Nov 2025, 10:31". */
export function formatWhen(openedAt: string): string {
  return WHEN.format(new Date(openedAt));
}

const TIME_OF_DAY = new Intl.DateTimeFormat('en-GB', { timeStyle: 'short' });

/** The time of day here of a wall-clock time in UTC: "09:12". */
export function formatTimeOfDay(iso: string): string {
  return TIME_OF_DAY.format(new Date(iso));
}

const DAY = new Intl.DateTimeFormat('en-GB', {
  weekday: 'long',
  day: 'numeric',
  month: 'long',
  year: 'numeric',
});
const SHORT_DAY = new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium' });

/** The day here of a wall-clock time in UTC: "Monday, 2 March 2026". */
export function formatDay(iso: string): string {
  return DAY.format(new Date(iso));
}

/** The same in short: "2 Mar 2026". */
export function formatShortDay(iso: string): string {
  return SHORT_DAY.format(new Date(iso));
}

/** The day here, so many days after the day here of a wall-clock time in UTC: "4 Mar 2026". */
export function formatDayAfter(iso: string, days: number): string {
  const day = new Date(iso);
  day.setDate(day.getDate() + days);
  return SHORT_DAY.format(day);
}

/** When a calendar day here begins, so many days after it, ISO 8601 in UTC; null: no such day. */
export function startOfDay(day: string, daysAfter = 0): string | null {
  const start = new Date(`${day}T00:00:00`);
  start.setDate(start.getDate() + daysAfter);
  return Number.isNaN(start.getTime()) ? null : start.toISOString();
}

/** Is it the same day here? */
export function isToday(iso: string, now: Date = new Date()): boolean {
  return new Date(iso).toDateString() === now.toDateString();
}
