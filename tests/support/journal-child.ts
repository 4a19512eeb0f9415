import { randomUUID } from 'node:crypto';
import { nodeDisk } from '../../electron/disk.ts';
import { JournalHost } from '../../electron/journal-host.ts';
import { edgeAt, setupOf, WINDOW_ID } from './drills.ts';

/**
 * A host in a process of its own, for tests that kill it: writes edges to the folder it is given until it is
 * ended, and prints the drill's id, then each line's number once it is acknowledged.
 */
const [folder = ''] = process.argv.slice(2);
const host = new JournalHost({ disk: nodeDisk, folder, newId: randomUUID, now: () => new Date() });
const opened = await host.openDrill(setupOf());
if (!opened.ok) throw new Error(opened.message);
const { drillId } = opened.value;
process.stdout.write(`${drillId}\n`);
let sequence = 0;
/** Several writers at a time, so that there is always a flush under way. */
const WRITERS = 4;
await Promise.all(Array.from({ length: WRITERS }, writeForEver));

async function writeForEver(): Promise<void> {
  for (;;) {
    sequence += 1;
    const line = edgeAt(sequence, sequence % 2 === 1);
    const answer = await host.append({ drillId, windowId: WINDOW_ID, sequence, lines: [line] });
    if (!answer.ok) throw new Error(answer.message);
    process.stdout.write(`${answer.value.throughLine}\n`);
  }
}
