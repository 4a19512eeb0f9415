const WHEN = new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium', timeStyle: 'short' });

/** The wall clock's time of an open line, as people here write it: "25 Nov 2025, 10:31". */
export function formatWhen(openedAt: string): string {
  return WHEN.format(new Date(openedAt));
}
