import type { ClassFile } from '../machines/class/class-file.ts';
import { WEANING } from '../machines/count/weaning.ts';
import { type InstructorKeys, KEYS_AS_AT_FIRST } from '../machines/instructor-keys.ts';
import type {
  BodyLine,
  MarkLine,
  OpenLine,
  RigCheck,
  SignatureLine,
  SwitchOffsetRecord,
  WeaningRule,
} from '../machines/journal.ts';
import type { NumberedLine } from '../machines/journal-reader.ts';
import type { LedgerPerson } from '../machines/ledger/filter.ts';
import type {
  Filing,
  LedgerPart,
  LedgerQuery,
  NameCorrection,
  Removal,
} from '../machines/ledger/ledger-requests.ts';
import type { PersonPage } from '../machines/ledger/person-page.ts';
import type { Plan } from '../machines/plans/plan.ts';
import type { Standard } from '../machines/standard/standard.ts';
import type { Language } from '../machines/words/languages.ts';

/**
 * The one bridge between a window and the computer. Both carriers (Electron's IPC and loopback HTTP)
 * and the window are built from this table: a name, the argument's type, the result's; arguments.ts has the parsers.
 * Nothing time-critical crosses: times are made in the window, lines cross in batches.
 */

export type Failure = { ok: false; code: FailureCode; message: string };
export type Result<T> = { ok: true; value: T } | Failure;
export const FAILURE_CODES = [
  'bad-argument',
  'not-allowed',
  'no-such-drill',
  'wrong-sequence',
  'bad-line',
  'disk',
  'newer-version',
  'internal',
] as const;
export type FailureCode = (typeof FAILURE_CODES)[number];

/** What Set-up asks for: an open line without what the host adds (kind, version, id, openedAt). */
export type DrillSetup = Omit<OpenLine, 'kind' | 'version' | 'id' | 'openedAt' | 'filed'>;
export type OpenedDrill = { drillId: string; fileName: string; open: OpenLine };
/** One batch from one window; `sequence` counts that window's batches for the drill from 1. */
export type Batch = { drillId: string; windowId: string; sequence: number; lines: readonly BodyLine[] };
/** `throughLine` is the number of the last line known to be on the disk. */
export type Acknowledgement = { throughLine: number };
export type DrillText = {
  drillId: string;
  fileName: string;
  open: OpenLine;
  lines: readonly NumberedLine[];
  isClosed: boolean;
};
/** What the instructor says of a drill that is over: a line but for the times, which the host adds. Its fields are journal.ts's. */
export type Remark = Omit<MarkLine, 'at'> | Omit<SignatureLine, 'at' | 'signedAt'>;
export type RemarkedDrill = { drillId: string; remarks: readonly Remark[] };
export type DrillEntry = {
  drillId: string;
  fileName: string;
  openedAt: string;
  names: { A: string; B: string };
  isClosed: boolean;
};
/** What every window hears when lines are on the disk, in the file's order. */
export type LinesWritten = { drillId: string; lines: readonly NumberedLine[] };
/**
 * What a switch is, by device. A key is a physical code, whatever the layout prints on it. A pad is its name and the place
 * it had among the pads; an axis also where it rests (-1, 0, 1) and which way it is pressed.
 */
export type KeyBinding = { kind: 'key'; code: string };
export type PadBinding =
  | { kind: 'pad-button'; pad: string; index: number; button: number }
  | { kind: 'pad-axis'; pad: string; index: number; axis: number; rest: -1 | 0 | 1; towards: -1 | 1 };
export type SwitchBinding = KeyBinding | PadBinding;
/** What a switch check found, as far as it did: for the open lines of the drills that follow. */
export type FoundOfSwitches = {
  sources: Record<'chest' | 'airway', { stepMs?: number | undefined; bounceMs?: number | undefined }>;
  switchOffset?: SwitchOffsetRecord | undefined;
  bounceMs?: number | undefined;
  /** Why there is no bounce limit, where a switch bounces too long for one. */
  bounceProblem?: string | undefined;
};
/** What Set-up remembers from the last drill. */
export type StationSettings = {
  people: { A: string; B: string };
  /** The first switch is the chest's, or A's when each person keeps one; the second the airway's, or B's. */
  switches: { chest: SwitchBinding; airway: SwitchBinding };
  /** When the two were last pressed to be bound, ISO 8601 in UTC; null: never on this station. */
  boundAt: string | null;
  /** The last rig check with these switches; null: none. */
  rigCheck: RigCheck | null;
  /** What the last switch check with these switches found, and when, ISO 8601 in UTC; null: none. */
  switchCheck: { at: string; found: FoundOfSwitches } | null;
  /** Holding both switches begins and finishes a drill, for a pair without an instructor. */
  isBegunByHolding: boolean;
  /** The keys of the instructor's calls that are not where they are at first. */
  instructorKeys: InstructorKeys;
  rig: OpenLine['rig'];
  guideline: string;
  binding: OpenLine['binding'];
  airway: OpenLine['airway'];
  tolerance: OpenLine['tolerance'];
  roles: OpenLine['roles'];
  technique: OpenLine['technique'];
  stance: OpenLine['stance'];
  guidance: OpenLine['guidance'];
  tempo: 'usual' | 'slow';
  weaning: WeaningRule;
  /** Stations in the room: with several, each has its own pitch and the count is best left off. */
  stations: 'one' | 'several';
  /** Off: the count is only shown. Volume 0 to 1; pitch 1 to 4. */
  sound: { isOn: boolean; volume: number; pitch: number };
  /** The course's own interval between practices, in days; absent or null: it has none. */
  dueAfterDays: number | null;
  /** The plan that was last chosen: a ready-made one's name, or the file name of one of the station's; null: none. */
  plan: string | null;
  /** What the learners read and hear; the rest of the station is English. */
  language: Language;
  /** When the cautions were read on this station, ISO 8601 in UTC; null: they are shown before anything else. */
  cautionsReadAt: string | null;
};
/** One file of the station's plans: the plan, or what is wrong with the file ("line 12: legs.3.seconds is …"). */
export type StoredPlan = { fileName: string } & (
  | { plan: Plan; problem: null }
  | { plan: null; problem: string }
);
/** One file of the station's standards: the standard, or what is wrong with the file. */
export type StoredStandard = { fileName: string } & (
  | { standard: Standard; problem: null }
  | { standard: null; problem: string }
);
/** Where a drill's 0 is on the host's clock, in ms. `errorMs`: at the most so far off; null: not measured, some ms. */
export type DrillZero = { hostMs: number; errorMs: number | null };
export const WINDOW_ROLES = ['instructor', 'learners'] as const;
/** What a window shows first: the station's own window is the instructor's. */
export type WindowRole = (typeof WINDOW_ROLES)[number];
/** The page's address for a role: the learners' window has it in its query, which no server reads. */
export function windowAddress(address: string, role: WindowRole): string {
  return role === 'learners' ? `${address}?window=learners` : address;
}

/** The role in a page's address; anything else is the instructor's. */
export function roleInAddress(query: string): WindowRole {
  return new URLSearchParams(query).get('window') === 'learners' ? 'learners' : 'instructor';
}

/** A window says that it takes part in a drill, and says it again when something of it changes. */
export type Attendance = {
  drillId: string;
  windowId: string;
  role: WindowRole;
  hasFocus: boolean;
  /** Said by the window that opened the drill, once it has measured it; null: nothing to say. */
  zero: DrillZero | null;
};
/** What every window hears when a window comes, goes or changes. */
export type DrillWindows = {
  drillId: string;
  /** Grows with every change: what is older is passed over. */
  version: number;
  /** In the order they came. */
  windows: readonly Pick<Attendance, 'windowId' | 'role' | 'hasFocus'>[];
  /** The window that gives the count; null while there is none. */
  countId: string | null;
  /** When the window that gave it before was gone, in ms on the host's clock; null: none has gone. */
  countGoneMs: number | null;
  zero: DrillZero;
};
/** The drill that runs: opened last on this station, and not closed. */
export type CurrentDrill = DrillText & { zero: DrillZero };
/** Milliseconds on the host's clock, which never goes back. */
export type HostTime = { hostMs: number };

export type StationFacts = { journalFolder: string; shell: 'electron' | 'browser'; version: string };

export type BridgeRequests = {
  'station:facts': { argument: null; value: StationFacts };
  'settings:load': { argument: null; value: StationSettings | null };
  'settings:save': { argument: StationSettings; value: null };
  'drill:open': { argument: DrillSetup; value: OpenedDrill };
  'drill:append': { argument: Batch; value: Acknowledgement };
  'drill:read': { argument: { drillId: string }; value: DrillText };
  'drill:remark': { argument: RemarkedDrill; value: DrillText };
  'drill:list': { argument: null; value: readonly DrillEntry[] };
  'ledger:list': { argument: LedgerQuery; value: LedgerPart };
  'ledger:people': { argument: null; value: readonly LedgerPerson[] };
  'ledger:person': { argument: { name: string }; value: PersonPage | null };
  'ledger:file': { argument: Filing; value: null };
  'ledger:rename-person': { argument: NameCorrection; value: { drills: number } };
  'ledger:remove-person': { argument: { name: string }; value: Removal };
  'ledger:remove-drill': { argument: { drillId: string }; value: null };
  'ledger:search': { argument: { name: string }; value: { files: readonly string[] } };
  'plan:list': { argument: null; value: readonly StoredPlan[] };
  'plan:save': { argument: { fileName: string | null; plan: Plan }; value: { fileName: string } };
  'plan:remove': { argument: { fileName: string }; value: null };
  'standard:list': { argument: null; value: readonly StoredStandard[] };
  'standard:save': { argument: { fileName: string | null; standard: Standard }; value: { fileName: string } };
  'standard:remove': { argument: { fileName: string }; value: null };
  'class:load': { argument: null; value: ClassFile | null };
  'class:save': { argument: ClassFile; value: null };
  'drill:current': { argument: null; value: CurrentDrill | null };
  'drill:attend': { argument: Attendance; value: DrillWindows };
  'clock:ping': { argument: null; value: HostTime };
  'window:open': { argument: { role: WindowRole }; value: null };
  'paper:save': { argument: { fileName: string }; value: { path: string | null } };
};
export type Channel = keyof BridgeRequests;
export const CHANNELS = [
  'station:facts',
  'settings:load',
  'settings:save',
  'drill:open',
  'drill:append',
  'drill:read',
  'drill:remark',
  'drill:list',
  'ledger:list',
  'ledger:people',
  'ledger:person',
  'ledger:file',
  'ledger:rename-person',
  'ledger:remove-person',
  'ledger:remove-drill',
  'ledger:search',
  'plan:list',
  'plan:save',
  'plan:remove',
  'standard:list',
  'standard:save',
  'standard:remove',
  'class:load',
  'class:save',
  'drill:current',
  'drill:attend',
  'clock:ping',
  'window:open',
  'paper:save',
] as const satisfies readonly Channel[];
/** The two things the host says unasked. */
export const LINES_WRITTEN = 'drill:lines-written';
export const WINDOWS_CHANGED = 'drill:windows-changed';

/** What a window sees: named functions only. */
export type Bridge = {
  loadFacts(): Promise<Result<StationFacts>>;
  loadSettings(): Promise<Result<StationSettings | null>>;
  saveSettings(settings: StationSettings): Promise<Result<null>>;
  openDrill(setup: DrillSetup): Promise<Result<OpenedDrill>>;
  appendLines(batch: Batch): Promise<Result<Acknowledgement>>;
  readDrill(drillId: string): Promise<Result<DrillText>>;
  /**
   * Adds marks and signatures to a drill that nobody is adding to any more, and answers with all of it once they are on the disk.
   * Refused with `not-allowed` while the drill is open here, and for a signature under a rhythm drill. Sent twice is written
   * twice, which changes nothing: the latest counts.
   */
  remarkDrill(drillId: string, remarks: readonly Remark[]): Promise<Result<DrillText>>;
  listDrills(): Promise<Result<readonly DrillEntry[]>>;
  /** Newest first. */
  listLedger(query: LedgerQuery): Promise<Result<LedgerPart>>;
  listPeople(): Promise<Result<readonly LedgerPerson[]>>;
  /** Null where nobody of that name drilled. */
  loadPerson(name: string): Promise<Result<PersonPage | null>>;
  /** Gives a drill its title and puts it away or back. */
  fileDrill(filing: Filing): Promise<Result<null>>;
  /** Puts right a wrong name. */
  renamePerson(correction: NameCorrection): Promise<Result<{ drills: number }>>;
  removePerson(name: string): Promise<Result<Removal>>;
  removeDrill(drillId: string): Promise<Result<null>>;
  /** The files of the station's folder in which a name stands. */
  searchName(name: string): Promise<Result<{ files: readonly string[] }>>;
  listPlans(): Promise<Result<readonly StoredPlan[]>>;
  /** In place of the file of that name, or with null as a new one. */
  savePlan(fileName: string | null, plan: Plan): Promise<Result<{ fileName: string }>>;
  removePlan(fileName: string): Promise<Result<null>>;
  listStandards(): Promise<Result<readonly StoredStandard[]>>;
  /** In place of the file of that name, or with null as a new one. */
  saveStandard(fileName: string | null, standard: Standard): Promise<Result<{ fileName: string }>>;
  removeStandard(fileName: string): Promise<Result<null>>;
  /** The day's class on this station; null while there is none. */
  loadClass(): Promise<Result<ClassFile | null>>;
  saveClass(wanted: ClassFile): Promise<Result<null>>;
  /** The drill that runs on this station, with all that is on the disk of it; null while none does. */
  findCurrentDrill(): Promise<Result<CurrentDrill | null>>;
  attendDrill(attendance: Attendance): Promise<Result<DrillWindows>>;
  pingClock(): Promise<Result<HostTime>>;
  /** Opens another window of this station; refused in a shell where the page does that itself. */
  openWindow(role: WindowRole): Promise<Result<null>>;
  /** Asks where, and saves the window's pages for paper there as a PDF; a null path: they thought better of it. Refused in a shell whose browser prints. */
  savePaper(fileName: string): Promise<Result<{ path: string | null }>>;
  /** Returns its unsubscribe function. */
  onLinesWritten(listener: (written: LinesWritten) => void): () => void;
  /** Returns its unsubscribe function. */
  onWindowsChanged(listener: (windows: DrillWindows) => void): () => void;
};

/** The window's functions over any carrier that can ask and listen. */
export function makeBridge(carrier: {
  request: <C extends Channel>(
    channel: C,
    argument: BridgeRequests[C]['argument'],
  ) => Promise<Result<BridgeRequests[C]['value']>>;
  listen: (listener: (written: LinesWritten) => void) => () => void;
  listenToWindows: (listener: (windows: DrillWindows) => void) => () => void;
}): Bridge {
  return {
    loadFacts: () => carrier.request('station:facts', null),
    loadSettings: () => carrier.request('settings:load', null),
    saveSettings: (settings) => carrier.request('settings:save', settings),
    openDrill: (setup) => carrier.request('drill:open', setup),
    appendLines: (batch) => carrier.request('drill:append', batch),
    readDrill: (drillId) => carrier.request('drill:read', { drillId }),
    remarkDrill: (drillId, remarks) => carrier.request('drill:remark', { drillId, remarks }),
    listDrills: () => carrier.request('drill:list', null),
    listLedger: (query) => carrier.request('ledger:list', query),
    listPeople: () => carrier.request('ledger:people', null),
    loadPerson: (name) => carrier.request('ledger:person', { name }),
    fileDrill: (filing) => carrier.request('ledger:file', filing),
    renamePerson: (correction) => carrier.request('ledger:rename-person', correction),
    removePerson: (name) => carrier.request('ledger:remove-person', { name }),
    removeDrill: (drillId) => carrier.request('ledger:remove-drill', { drillId }),
    searchName: (name) => carrier.request('ledger:search', { name }),
    listPlans: () => carrier.request('plan:list', null),
    savePlan: (fileName, plan) => carrier.request('plan:save', { fileName, plan }),
    removePlan: (fileName) => carrier.request('plan:remove', { fileName }),
    listStandards: () => carrier.request('standard:list', null),
    saveStandard: (fileName, standard) => carrier.request('standard:save', { fileName, standard }),
    removeStandard: (fileName) => carrier.request('standard:remove', { fileName }),
    loadClass: () => carrier.request('class:load', null),
    saveClass: (wanted) => carrier.request('class:save', wanted),
    findCurrentDrill: () => carrier.request('drill:current', null),
    attendDrill: (attendance) => carrier.request('drill:attend', attendance),
    pingClock: () => carrier.request('clock:ping', null),
    openWindow: (role) => carrier.request('window:open', { role }),
    savePaper: (fileName) => carrier.request('paper:save', { fileName }),
    onLinesWritten: (listener) => carrier.listen(listener),
    onWindowsChanged: (listener) => carrier.listenToWindows(listener),
  };
}

/** Lines of one batch at the most: an hour of edges in one send is no window of ours. */
export const MAX_BATCH_LINES = 5_000;

/** Remarks of one request at the most: more cycles than an hour has. */
export const MAX_REMARKS = 2_000;
/** Entries of the Ledger in one answer at the most, and the furthest one may start (tool defaults). */
export const MAX_LEDGER_COUNT = 500;
export const MAX_LEDGER_FROM = 10_000_000;

/** Ticks of so many pitches are in assets/sounds. */
export const PITCHES = 4;
/** Tool defaults: on, not at its loudest, the lowest pitch but one. */
export const FIRST_SOUND: StationSettings['sound'] = { isOn: true, volume: 0.8, pitch: 2 };
/** Tool defaults of a new station. */
export const FIRST_SETTINGS: StationSettings = {
  people: { A: '', B: '' },
  // Far apart, in the row nearest to the two; one key in from the edge, since five slips onto Shift
  // would switch on a system's sticky keys; away from the instructor's digits. Any two keys go together.
  switches: { chest: { kind: 'key', code: 'KeyX' }, airway: { kind: 'key', code: 'Period' } },
  boundAt: null,
  rigCheck: null,
  switchCheck: null,
  isBegunByHolding: false,
  instructorKeys: KEYS_AS_AT_FIRST,
  rig: 'rhythm',
  guideline: 'us-style',
  binding: 'place',
  airway: 'mask',
  tolerance: 'standard',
  roles: { compressor: 'A', ventilator: 'B' },
  technique: 'two-thumb',
  stance: 'foot-end',
  guidance: 'weaned',
  tempo: 'usual',
  weaning: WEANING,
  stations: 'one',
  sound: FIRST_SOUND,
  plan: null,
  dueAfterDays: null,
  language: 'english',
  cautionsReadAt: null,
};
