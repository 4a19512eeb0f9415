import { source as axeSource } from 'axe-core';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';

/** What a test needs of axe-core in the page. */
declare const axe: {
  run(): Promise<{ violations: { id: string; nodes: { html: string }[] }[]; passes: unknown[] }>;
};

/** A check that looked at nothing is a failure too. */
export async function checkWithAxe(page: Page, screen: string): Promise<void> {
  // Given as a program of the debugger's, which the page's content policy is not asked about.
  await page.evaluate(axeSource);
  const { violations, passes } = await page.evaluate(async () => {
    const result = await axe.run();
    return {
      violations: result.violations.map(
        ({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`,
      ),
      passes: result.passes.length,
    };
  });
  expect({ screen, violations }).toEqual({ screen, violations: [] });
  expect(passes).toBeGreaterThan(5);
}
