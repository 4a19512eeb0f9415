import { cpus } from 'node:os';
import { defineConfig } from 'vitest/config';
import { CountReporter } from './tests/tools/count-reporter.ts';

const limits = { testTimeout: 30_000, hookTimeout: 60_000 };

export default defineConfig({
  test: {
    reporters: ['default', new CountReporter()],
    projects: [
      {
        test: {
          ...limits,
          name: 'quick',
          include: ['tests/**/*.test.{ts,tsx}'],
          exclude: ['tests/browser/**'],
          maxWorkers: Math.max(1, cpus().length),
          sequence: { groupOrder: 0 },
        },
      },
      {
        // Real windows, real keys, real sound: one at a time, after the others, since their times are looked at.
        test: {
          ...limits,
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          maxWorkers: 1,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
