import { open, rename } from 'node:fs/promises';

/** Writes a file whole, beside the one of that name and then in its place: nothing is ever half written. Rejects with the system's own error. */
export async function writeWholeFile(path: string, content: string | Uint8Array): Promise<void> {
  const fresh = `${path}.new`;
  const file = await open(fresh, 'w', 0o600);
  try {
    await file.writeFile(content, 'utf8');
    await file.sync();
  } finally {
    await file.close();
  }
  await rename(fresh, path);
}
