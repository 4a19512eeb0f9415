import type { DeviceLine, OpenLine, Switch } from '../journal.ts';
import type { NumberedLine } from '../journal-reader.ts';
import type { Ms } from '../units.ts';

/** What passed is spoken of for so long (tool default). */
const SHOWN_MS: Ms = 10_000;

/** What the instructor is told of the switches now: what still holds, and what has just happened. */
export function deviceNotices(
  open: Pick<OpenLine, 'people'>,
  lines: readonly NumberedLine[],
  nowMs: Ms,
  nameOfKey: (code: string) => string,
): string[] {
  const notices = new Map<string, string>();
  for (const { line } of lines) {
    if (line.kind === 'edge') {
      notices.delete(`stuck ${line.switch}`);
      if (line.down) notices.delete(`silent ${line.switch}`);
    } else if (line.kind === 'device') note(notices, line, nowMs - line.at <= SHOWN_MS);
  }
  return [...notices.values()];

  function note(
    all: Map<string, string>,
    { what, switch: name = '', lateMs = 0 }: DeviceLine,
    isRecent: boolean,
  ): void {
    const whose = switchWords(name, open.people);
    if (what === 'unplugged')
      all.set(
        `unplugged ${name}`,
        `${whose} is unplugged: no press of it is seen. Plug it in and press it once; the drill goes on.`,
      );
    if (what === 'plugged-in') {
      all.delete(`unplugged ${name}`);
      if (isRecent) all.set(`plugged-in ${name}`, `${whose} is plugged in.`);
    }
    if (what === 'stuck')
      all.set(`stuck ${name}`, `${whose} has been down for more than three seconds: is it stuck?`);
    if (what === 'silent')
      all.set(
        `silent ${name}`,
        `No press of ${lowerFirst(whose)} was registered in the whole of the last bout: is it working?`,
      );
    if (what === 'late' && isRecent)
      all.set(
        'late',
        `A line of one window came late: it stands ${Math.ceil(lateMs)} ms after its own time, and the journal says so.`,
      );
    if (what === 'third-key' && isRecent)
      all.set('third-key', `A third key was pressed (${nameOfKey(name)}). It is noted and not counted.`);
  }
}

/** "The chest switch", "Ada’s switch". */
function switchWords(name: string, people: OpenLine['people']): string {
  return isPerson(name) ? `${people[name]}’s switch` : `The ${name} switch`;
}

function isPerson(name: string): name is Extract<Switch, 'A' | 'B'> {
  return name === 'A' || name === 'B';
}

function lowerFirst(words: string): string {
  return words.startsWith('The ') ? `t${words.slice(1)}` : words;
}
