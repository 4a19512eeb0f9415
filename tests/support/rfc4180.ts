/**
 * Reads CSV by RFC 4180 and nothing laxer: records end with CRLF, each has as many fields as the first, a quote stands
 * only around a whole field or doubled within one. Throws where a text breaks that. No parser is among our packages.
 */
export function readCsv(text: string): string[][] {
  const records: string[][] = [];
  let record: string[] = [];
  let at = 0;
  while (at < text.length) {
    const field = text[at] === '"' ? quotedField(text, at) : bareField(text, at);
    record.push(field.value);
    at = field.end;
    if (text[at] === ',') {
      at += 1;
      continue;
    }
    if (text.slice(at, at + 2) !== '\r\n') throw new Error(`no CRLF or comma at ${at}`);
    at += 2;
    if (record.length !== (records[0] ?? record).length)
      throw new Error(`record ${records.length + 1} is uneven`);
    records.push(record);
    record = [];
  }
  if (record.length > 0) throw new Error('the last record has no CRLF');
  return records;
}

/** The same, each record after the header by its column's name. */
export function readCsvRows(text: string): Record<string, string>[] {
  const [header = [], ...records] = readCsv(text);
  return records.map((fields) =>
    Object.fromEntries(header.map((name, index) => [name, fields[index] ?? ''])),
  );
}

function quotedField(text: string, from: number): { value: string; end: number } {
  let value = '';
  for (let at = from + 1; at < text.length; at += 1) {
    if (text[at] !== '"') value += text[at];
    else if (text[at + 1] === '"') {
      value += '"';
      at += 1;
    } else return { value, end: at + 1 };
  }
  throw new Error(`the quote at ${from} is never closed`);
}

function bareField(text: string, from: number): { value: string; end: number } {
  let end = from;
  while (end < text.length && !',\r\n'.includes(text[end] ?? '')) end += 1;
  const value = text.slice(from, end);
  if (value.includes('"')) throw new Error(`a bare field has a quote at ${from}`);
  return { value, end };
}
