import type { DrillText, Remark, Result } from '../../electron/contract.ts';
import { StandardShelf } from '../../renderer/app/standard-shelf.ts';
import { Debrief } from '../../renderer/screens/debrief.tsx';
import { FakeBridge } from './fake-bridge.ts';
import type { JournalBuilder } from './journal-builder.ts';
import { Screen } from './screen.tsx';

type ShownDebrief = { screen: Screen; bridge: FakeBridge; left: string[] };
/** When everything of these tests was signed. */
export const SIGNED_AT = '2026-03-02T10:04:05.000Z';

/** The Debrief of a journal whose host writes remarks at its last time, or says that its disk does not take them. */
export async function showDebrief(journal: JournalBuilder, diskSays?: string): Promise<ShownDebrief> {
  const { open } = journal;
  let text: DrillText = {
    drillId: open.id,
    fileName: 'drill.antiphon.jsonl',
    open,
    lines: journal.lines,
    isClosed: true,
  };
  const onRemark = async (remarks: readonly Remark[]): Promise<Result<DrillText>> => {
    if (diskSays !== undefined) return { ok: false, code: 'disk', message: diskSays };
    const last = text.lines.at(-1)?.line;
    const at = last === undefined || last.kind === 'unknown' ? 0 : last.at;
    const from = text.lines.length + 2;
    const more = remarks.map((remark, index) => ({
      number: from + index,
      line: remark.kind === 'mark' ? { ...remark, at } : { ...remark, at, signedAt: SIGNED_AT },
    }));
    text = { ...text, lines: [...text.lines, ...more] };
    return { ok: true, value: text };
  };
  const left: string[] = [];
  const bridge = new FakeBridge();
  const screen = await Screen.show(
    <Debrief
      text={text}
      onRemark={onRemark}
      standards={new StandardShelf(bridge)}
      onLeave={() => left.push('left')}
    />,
  );
  return { screen, bridge, left };
}
