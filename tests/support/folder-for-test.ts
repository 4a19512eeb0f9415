import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';

/** A folder of its own for one test, gone when the test is; a browser that ends may still write into its own for a moment. */
export async function makeTempFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'antiphon-test-'));
  onTestFinished(() => rm(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));
  return folder;
}
