import { expect, test } from 'vitest';
import type { Result } from '../../electron/contract.ts';
import type { LedgerPart, LedgerQuery } from '../../machines/ledger/ledger-requests.ts';
import { LedgerShelf } from '../../renderer/app/ledger-shelf.ts';
import { FakeBridge } from '../support/fake-bridge.ts';

/** A station that answers when the test says so. */
class SlowBridge extends FakeBridge {
  readonly asked: { text: string | null; answer: (total: number) => void }[] = [];

  override listLedger({ filter }: LedgerQuery): Promise<Result<LedgerPart>> {
    return new Promise((resolve) => {
      const answer = (total: number) =>
        resolve({ ok: true, value: { entries: [], total, unread: 0, leftAlone: [] } });
      this.asked.push({ text: filter.text, answer });
    });
  }
}

test('while somebody types, one question is under way, the last is asked next, and an older answer is not shown', async () => {
  const bridge = new SlowBridge();
  const shelf = new LedgerShelf(bridge, () => () => undefined);
  const typed = ['a', 'ad', 'ada'].map((text) => shelf.setFilter({ text }));
  expect(bridge.asked.map(({ text }) => text)).toEqual(['a']);
  bridge.asked[0]?.answer(900);
  await expect.poll(() => bridge.asked.map(({ text }) => text)).toEqual(['a', 'ada']);
  expect(shelf.total).toBeNull();
  bridge.asked[1]?.answer(20);
  await Promise.all(typed);
  expect([shelf.total, bridge.asked.length]).toEqual([20, 2]);
});
