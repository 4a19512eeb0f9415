import { describe, expect, test } from 'vitest';
import type { Acknowledgement, Batch, Result } from '../../electron/contract.ts';
import type { BodyLine } from '../../machines/journal.ts';
import { JournalSender, type SenderTrouble } from '../../renderer/adapters/journal-sender.ts';
import { edgeAt, edges, WINDOW_ID } from '../support/drills.ts';

const DRILL_ID = '00000001-0000-4000-8000-000000000000';
const failure = (code: 'internal' | 'disk' | 'bad-line' | 'no-such-drill') =>
  ({ ok: false, code, message: code }) as const;

/** A host that takes batches as the real one does, and answers as it is told. */
function makeRig(
  answerTo: (batch: Batch, taken: (batch: Batch) => Result<Acknowledgement>) => Result<Acknowledgement>,
) {
  const batches: Batch[] = [];
  const written: BodyLine[] = [];
  const troubles: (SenderTrouble | null)[] = [];
  const waits: number[] = [];
  let last = 0;
  const take = (batch: Batch): Result<Acknowledgement> => {
    if (batch.sequence === last + 1) {
      last += 1;
      written.push(...batch.lines);
    }
    return { ok: true, value: { throughLine: written.length + 1 } };
  };
  const sender = new JournalSender({
    append: async (batch) => {
      batches.push(batch);
      return answerTo(batch, take);
    },
    drillId: DRILL_ID,
    windowId: WINDOW_ID,
    wait: async (attempt) => {
      waits.push(attempt);
    },
    onTrouble: (trouble) => troubles.push(trouble),
  });
  return { sender, batches, written, troubles, waits };
}

describe('the window’s sender', () => {
  test('has one batch in flight, and gathers what comes meanwhile', async () => {
    const { sender, batches } = makeRig((batch, take) => take(batch));
    const first = sender.send(edgeAt(1));
    await first;
    await Promise.all([sender.send(edgeAt(2, false)), sender.send(edgeAt(3))]);
    await sender.whenIdle();
    expect(batches.map(({ sequence, lines }) => [sequence, lines])).toEqual([
      [1, [edgeAt(1)]],
      [2, [edgeAt(2, false), edgeAt(3)]],
    ]);
    expect(sender.unsaved).toBe(0);
  });

  test('sends the same batch again when the answer was lost, and it is written once', async () => {
    let lost = 2;
    const { sender, batches, written, troubles, waits } = makeRig((batch, take) => {
      const answer = take(batch);
      lost -= 1;
      return lost >= 0 ? failure('internal') : answer;
    });
    expect(await sender.send(edgeAt(1))).toEqual({ ok: true, value: { throughLine: 2 } });
    expect(batches.map(({ sequence }) => sequence)).toEqual([1, 1, 1]);
    expect(written).toEqual([edgeAt(1)]);
    expect(waits).toEqual([1, 2]);
    const trouble = { failure: failure('internal'), refused: [] };
    expect(troubles).toEqual([trouble, trouble, null]);
  });

  test('keeps lines while the disk is full, and saves them in order when there is room', async () => {
    let full = 3;
    const { sender, written } = makeRig((batch, take) => {
      full -= 1;
      return full >= 0 ? failure('disk') : take(batch);
    });
    await Promise.all(edges(20).map((line) => sender.send(line)));
    expect(written).toEqual(edges(20));
  });

  test('loses a bad line only, says which, and saves its neighbours', async () => {
    const bad = edgeAt(3);
    const { sender, written, troubles } = makeRig((batch, take) =>
      batch.lines.some((line) => line.at === bad.at) ? failure('bad-line') : take(batch),
    );
    const answers = await Promise.all(edges(5).map((line) => sender.send(line)));
    expect(answers.map(({ ok }) => ok)).toEqual([true, true, false, true, true]);
    expect(written.map(({ at }) => at)).toEqual([1, 2, 4, 5]);
    expect(troubles).toEqual([{ failure: failure('bad-line'), refused: [bad] }, null]);
  });

  test('ends when the drill is gone, and names every line that is not saved', async () => {
    const { sender, troubles } = makeRig(() => failure('no-such-drill'));
    await Promise.all(edges(3).map((line) => sender.send(line)));
    expect(troubles).toEqual([{ failure: failure('no-such-drill'), refused: edges(3) }]);
    expect(await sender.send(edgeAt(9))).toEqual(failure('no-such-drill'));
    expect(sender.unsaved).toBe(0);
  });

  test('keeps a batch under the carrier’s limit, however long the notes', async () => {
    const { sender, batches } = makeRig((batch, take) => take(batch));
    const note = { kind: 'note', at: 1, text: '\u20ac'.repeat(4000) } as const;
    await Promise.all(Array.from({ length: 400 }, () => sender.send(note)));
    const sizes = batches.map((batch) => Buffer.byteLength(JSON.stringify(batch)));
    expect(Math.max(...sizes)).toBeLessThan(1024 * 1024);
    expect(batches.flatMap(({ lines }) => lines)).toHaveLength(400);
  });
});
