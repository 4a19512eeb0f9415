import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';

/** A folder of its own for one test, gone when the test is. */
export async function makeTempFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'antiphon-test-'));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  return folder;
}
