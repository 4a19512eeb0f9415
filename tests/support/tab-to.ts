import type { Page } from 'playwright-core';

/** Tab by tab to the control whose name begins so, and no further than a page has controls. */
export async function tabTo(page: Page, name: string): Promise<void> {
  for (let tabs = 0; tabs < 150; tabs += 1) {
    const focused = await page.evaluate(() => {
      const { activeElement: on } = document;
      const label = on instanceof HTMLInputElement || on instanceof HTMLSelectElement ? on.labels?.[0] : null;
      return on?.getAttribute('aria-label') ?? label?.firstElementChild?.textContent ?? on?.textContent ?? '';
    });
    if (focused.startsWith(name)) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`no way to ${name} by Tab`);
}
