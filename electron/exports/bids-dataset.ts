import type { CallLine } from '../../machines/journal.ts';
import type { Journal } from '../../machines/journal-reader.ts';
import { drillListsOf, type ListedPress } from '../../machines/press-list.ts';
import type { Ms } from '../../machines/units.ts';
import { BIDS_README, EVENT_COLUMNS, type EventColumn } from '../../machines/words/bids-words.ts';
import type { ExportFile } from './export-file.ts';

/** The version of BIDS whose rules were read; tests/electron/exports/bids-rules.test.ts names where. */
const BIDS_VERSION = '1.10.0';
/** The task's label: letters and digits only. */
const TASK = 'newborn31';
const MISSING = 'n/a';

/**
 * A drill as a BIDS dataset of behaviour without recordings: an events file with its sidecar, a README and the dataset's
 * description. Those two are the same for every drill, so that several can be written into one folder. No name is in it.
 */
export function bidsFiles(journal: Journal): ExportFile[] {
  const subject = `sub-${lettersAndDigits(journal.open.id)}`;
  const session = `ses-${lettersAndDigits(journal.open.openedAt)}`;
  const folder = [subject, session, 'beh'];
  const stem = `${subject}_${session}_task-${TASK}_events`;
  return [
    { path: ['dataset_description.json'], text: json(DESCRIPTION) },
    { path: ['README'], text: BIDS_README },
    { path: [...folder, `${stem}.tsv`], text: eventsTsv(journal) },
    { path: [...folder, `${stem}.json`], text: json(EVENT_COLUMNS) },
  ];
}

const DESCRIPTION = {
  Name: 'Antiphon drills',
  BIDSVersion: BIDS_VERSION,
  DatasetType: 'raw',
  GeneratedBy: [{ Name: 'Antiphon' }],
};

type Event = { kind: 'press'; press: ListedPress } | { kind: 'call'; call: CallLine };

function eventsTsv(journal: Journal): string {
  const { presses, calls } = drillListsOf(journal);
  const events: Event[] = [
    ...presses.map((press) => ({ kind: 'press', press }) as const),
    ...calls.map((call) => ({ kind: 'call', call }) as const),
  ].sort((one, other) => onsetMs(one) - onsetMs(other));
  const names = Object.keys(EVENT_COLUMNS) as EventColumn[];
  const lines = events.map((event) => names.map((name) => CELLS[name](event) ?? MISSING));
  return [names, ...lines].map((cells) => `${cells.join('\t')}\n`).join('');
}

type Cell = string | number | null;

const CELLS: Record<EventColumn, (event: Event) => Cell> = {
  onset: (event) => seconds(onsetMs(event)),
  duration: (event) => {
    if (event.kind === 'call') return 0;
    const { press } = event;
    return press.isMeasured ? seconds(press.offMs - press.onMs) : null;
  },
  trial_type: (event) => {
    if (event.kind === 'call') return 'call';
    return event.press.role === 'compressor' ? 'compression' : 'breath';
  },
  call: (event) => (event.kind === 'call' ? event.call.call : null),
  counts: press(({ counts }) => counts),
  bout: press(({ bout }) => fromOne(bout)),
  cycle: press(({ cycle }) => fromOne(cycle)),
  place: press(({ place }) => fromOne(place)),
  person: press(({ person }) => person),
  switch: press((one) => one.switch),
  guidance: press(({ guidance }) => guidance),
  ideal_cycle: press(({ idealMs }) => seconds(idealMs)),
  technique: press(({ technique }) => technique),
  stance: press(({ stance }) => stance),
  rig: press(({ rig }) => rig),
  beat_asynchrony: press(({ asynchronyMs }) => (asynchronyMs === null ? null : seconds(asynchronyMs))),
};

function press(pick: (press: ListedPress) => Cell): (event: Event) => Cell {
  return (event) => (event.kind === 'press' ? pick(event.press) : null);
}

function onsetMs(event: Event): Ms {
  return event.kind === 'press' ? event.press.onMs : event.call.at;
}

/** Whole microseconds as seconds, written out without an exponent. */
function seconds(ms: Ms): string {
  return (Math.round(ms * 1000) / 1e6).toFixed(6).replace(/\.?0+$/, '');
}

function fromOne(index: number | null): number | null {
  return index === null ? null : index + 1;
}

function lettersAndDigits(text: string): string {
  return text.replace(/[^0-9A-Za-z]/g, '');
}

function json(value: unknown): string {
  return `${JSON.stringify(value, null, 2)}\n`;
}
