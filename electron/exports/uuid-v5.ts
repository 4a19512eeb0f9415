import { createHash } from 'node:crypto';

/**
 * The version 5 UUID of a name within another UUID: always the same for the same two. SHA-1 of the namespace's bytes and
 * the name's, as RFC 4122 has it (section 4.3, from memory; a test holds values that Python's uuid module gave).
 */
export function uuidV5(namespace: string, name: string): string {
  const hash = createHash('sha1')
    .update(Buffer.from(namespace.replaceAll('-', ''), 'hex'))
    .update(name)
    .digest();
  const bytes = hash.subarray(0, 16);
  bytes[6] = ((bytes[6] ?? 0) & 0x0f) | 0x50;
  bytes[8] = ((bytes[8] ?? 0) & 0x3f) | 0x80;
  const hex = bytes.toString('hex');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}
