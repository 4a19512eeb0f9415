/** CSV of RFC 4180: fields by commas, records ended by CRLF, quotes where a field needs them. */
export function csvRecord(fields: readonly (string | number)[]): string {
  return `${fields.map(csvField).join(',')}\r\n`;
}

/**
 * A text that a spreadsheet would run as a formula gets an apostrophe before it
 * (common practice against formula injection, no source); numbers stay as they are.
 */
function csvField(value: string | number): string {
  if (typeof value === 'number') return String(value);
  const safe = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
