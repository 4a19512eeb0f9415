/** Text made safe for HTML and SVG, in content and in quoted attributes; control characters that XML forbids are dropped. */
export function escapeMarkup(text: string): string {
  return text
    .replace(/[^\t\n\r\u0020-\uFFFD\u{10000}-\u{10FFFF}]/gu, '')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;');
}
