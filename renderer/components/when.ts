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

/** Is it the same day here? */
export function isToday(iso: string, now: Date = new Date()): boolean {
  return new Date(iso).toDateString() === now.toDateString();
}
