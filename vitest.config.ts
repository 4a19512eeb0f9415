import { defineConfig } from 'vitest/config';
import { CountReporter } from './tests/tools/count-reporter.ts';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.{ts,tsx}'],
    testTimeout: 30_000,
    hookTimeout: 60_000,
    reporters: ['default', new CountReporter()],
  },
});
