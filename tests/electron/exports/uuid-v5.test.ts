import { expect, it } from 'vitest';
import { uuidV5 } from '../../../electron/exports/uuid-v5.ts';

/** What Python's uuid.uuid5 gives for the same, the first in its namespace for DNS. */
it('is the UUID that others make of the same two', () => {
  expect(uuidV5('6ba7b810-9dad-11d1-80b4-00c04fd430c8', 'python.org')).toBe(
    '886313e1-3b8a-5372-9b90-0c9aee199e5d',
  );
  expect(uuidV5('7b1f7c1e-6d5a-4d0e-9a44-0c5b7c1d2e3f', 'A compressor')).toBe(
    '30fa51c5-b752-5e69-97c1-60bb5ad9d38f',
  );
});
