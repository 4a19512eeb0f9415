import type {
  Acknowledgement,
  Attendance,
  Batch,
  Bridge,
  CurrentDrill,
  DrillSetup,
  DrillText,
  DrillWindows,
  LinesWritten,
  OpenedDrill,
  Remark,
  Result,
  StationSettings,
  StoredPlan,
  StoredStandard,
} from '../../electron/contract.ts';
import type { ClassFile } from '../../machines/class/class-file.ts';
import type { BodyLine, OpenLine } from '../../machines/journal.ts';
import type { NumberedLine } from '../../machines/journal-reader.ts';
import { filterEntries, type LedgerPerson, peopleOf } from '../../machines/ledger/filter.ts';
import { type LedgerEntry, ledgerEntryOf } from '../../machines/ledger/ledger-entry.ts';
import type {
  Filing,
  LedgerPart,
  LedgerQuery,
  LeftAlone,
  NameCorrection,
  Removal,
} from '../../machines/ledger/ledger-requests.ts';
import { personKey, SOMEONE } from '../../machines/ledger/person-name.ts';
import { type PersonPage, personPageOf } from '../../machines/ledger/person-page.ts';
import type { Plan } from '../../machines/plans/plan.ts';
import type { Standard } from '../../machines/standard/standard.ts';
import { makeIds, OPENED_AT } from './drills.ts';

type Kept = { open: OpenLine; fileName: string; lines: NumberedLine[] };

/** A station in memory: it numbers lines, "flushes" them at once and tells of them, as the real one does. */
export class FakeBridge implements Bridge {
  settings: StationSettings | null = null;
  /** Said instead of doing anything on the disk. */
  failure: { ok: false; code: 'disk'; message: string } | null = null;
  plans: StoredPlan[] = [];
  standards: StoredStandard[] = [];
  /** The PDFs that were saved. */
  papers: string[] = [];
  classFile: ClassFile | null = null;
  /** Said of the Ledger: journals still to be read, those left alone, and other files in which any name stands. */
  unread = 0;
  leftAlone: LeftAlone[] = [];
  otherFiles: string[] = [];
  readonly drills = new Map<string, Kept>();
  version = 0;
  /** Where this station's clock is, in ms. */
  hostMs = 0;
  readonly windows = new Map<string, Attendance>();
  private readonly windowListeners = new Set<(windows: DrillWindows) => void>();
  private readonly listeners = new Set<(written: LinesWritten) => void>();
  private readonly newId = makeIds();

  async loadFacts() {
    return { ok: true, value: { journalFolder: '/journals', shell: 'browser', version: '0.0.0' } } as const;
  }

  async loadSettings(): Promise<Result<StationSettings | null>> {
    return { ok: true, value: this.settings };
  }

  async saveSettings(settings: StationSettings): Promise<Result<null>> {
    this.settings = settings;
    return { ok: true, value: null };
  }

  async openDrill(setup: DrillSetup): Promise<Result<OpenedDrill>> {
    if (this.failure !== null) return this.failure;
    const open: OpenLine = { kind: 'open', version: 1, id: this.newId(), openedAt: OPENED_AT, ...setup };
    const fileName = `${open.id.slice(0, 8)}.antiphon.jsonl`;
    this.drills.set(open.id, { open, fileName, lines: [] });
    return { ok: true, value: { drillId: open.id, fileName, open } };
  }

  async appendLines({ drillId, lines }: Batch): Promise<Result<Acknowledgement>> {
    const drill = this.drills.get(drillId);
    if (drill === undefined) return { ok: false, code: 'no-such-drill', message: 'there is no such drill' };
    if (this.failure !== null) return this.failure;
    const numbered = lines.map((line, index) => ({ number: drill.lines.length + 2 + index, line }));
    drill.lines.push(...numbered);
    for (const listener of this.listeners) listener({ drillId, lines: numbered });
    return { ok: true, value: { throughLine: drill.lines.length + 1 } };
  }

  async readDrill(drillId: string): Promise<Result<DrillText>> {
    const drill = this.drills.get(drillId);
    if (drill === undefined) return { ok: false, code: 'no-such-drill', message: 'there is no such drill' };
    return { ok: true, value: { drillId, ...drill, isClosed: isClosed(drill) } };
  }

  async remarkDrill(drillId: string, remarks: readonly Remark[]): Promise<Result<DrillText>> {
    const drill = this.drills.get(drillId);
    if (drill === undefined) return { ok: false, code: 'no-such-drill', message: 'there is no such drill' };
    if (this.failure !== null) return this.failure;
    const last = drill.lines.findLast(({ line }) => line.at !== undefined);
    const at = last?.line.at ?? 0;
    const numbered = remarks.map((remark, index): NumberedLine => {
      const line = remark.kind === 'mark' ? { ...remark, at } : { ...remark, at, signedAt: OPENED_AT };
      return { number: drill.lines.length + 2 + index, line };
    });
    drill.lines.push(...numbered);
    for (const listener of this.listeners) listener({ drillId, lines: numbered });
    return { ok: true, value: { drillId, ...drill, isClosed: isClosed(drill) } };
  }

  async listDrills() {
    const entries = [...this.drills].map(([drillId, drill]) => ({
      drillId,
      fileName: drill.fileName,
      openedAt: drill.open.openedAt,
      names: drill.open.people,
      isClosed: isClosed(drill),
    }));
    return { ok: true, value: entries } as const;
  }

  async listLedger({ filter, from, count }: LedgerQuery): Promise<Result<LedgerPart>> {
    const wanted = filterEntries(this.entries(), filter);
    const entries = wanted.slice(from, from + count);
    return {
      ok: true,
      value: { entries, total: wanted.length, unread: this.unread, leftAlone: this.leftAlone },
    };
  }

  async listPeople(): Promise<Result<readonly LedgerPerson[]>> {
    return { ok: true, value: peopleOf(this.entries()) };
  }

  async loadPerson(name: string): Promise<Result<PersonPage | null>> {
    return { ok: true, value: personPageOf(this.entries(), name, this.settings?.dueAfterDays ?? null) };
  }

  async fileDrill({ drillId, title, archived }: Filing): Promise<Result<null>> {
    const drill = this.drills.get(drillId);
    if (drill === undefined) return { ok: false, code: 'no-such-drill', message: 'there is no such drill' };
    if (this.failure !== null) return this.failure;
    drill.open = { ...drill.open, filed: { title, archived } };
    return { ok: true, value: null };
  }

  async renamePerson({ from, to, drillId }: NameCorrection): Promise<Result<{ drills: number }>> {
    if (this.failure !== null) return this.failure;
    return { ok: true, value: { drills: this.rename(from, to, drillId) } };
  }

  async removePerson(name: string): Promise<Result<Removal>> {
    if (this.failure !== null) return this.failure;
    const drills = this.rename(name, SOMEONE, null);
    return { ok: true, value: { drills, removedDrills: 0, leftIn: this.otherFiles } };
  }

  async removeDrill(drillId: string): Promise<Result<null>> {
    if (this.failure !== null) return this.failure;
    this.drills.delete(drillId);
    return { ok: true, value: null };
  }

  async searchName(name: string): Promise<Result<{ files: readonly string[] }>> {
    const has = ({ open }: Kept) =>
      Object.values(open.people).some((other) => personKey(other) === personKey(name));
    const journals = [...this.drills.values()].filter(has).map(({ fileName }) => fileName);
    return { ok: true, value: { files: [...journals, ...this.otherFiles] } };
  }

  async listPlans(): Promise<Result<readonly StoredPlan[]>> {
    return { ok: true, value: this.plans };
  }

  async savePlan(fileName: string | null, plan: Plan): Promise<Result<{ fileName: string }>> {
    if (this.failure !== null) return this.failure;
    const name = fileName ?? `plan-${this.plans.length + 1}.antiphon-plan.json`;
    this.plans = [
      ...this.plans.filter((one) => one.fileName !== name),
      { fileName: name, plan, problem: null },
    ];
    return { ok: true, value: { fileName: name } };
  }

  async removePlan(fileName: string): Promise<Result<null>> {
    if (this.failure !== null) return this.failure;
    this.plans = this.plans.filter((one) => one.fileName !== fileName);
    return { ok: true, value: null };
  }

  async listStandards(): Promise<Result<readonly StoredStandard[]>> {
    return { ok: true, value: this.standards };
  }

  async saveStandard(fileName: string | null, standard: Standard): Promise<Result<{ fileName: string }>> {
    if (this.failure !== null) return this.failure;
    const name = fileName ?? `standard-${this.standards.length + 1}.antiphon-standard.json`;
    this.standards = [
      ...this.standards.filter((one) => one.fileName !== name),
      { fileName: name, standard, problem: null },
    ];
    return { ok: true, value: { fileName: name } };
  }

  async removeStandard(fileName: string): Promise<Result<null>> {
    if (this.failure !== null) return this.failure;
    this.standards = this.standards.filter((one) => one.fileName !== fileName);
    return { ok: true, value: null };
  }

  async loadClass(): Promise<Result<ClassFile | null>> {
    return { ok: true, value: this.classFile };
  }

  async saveClass(wanted: ClassFile): Promise<Result<null>> {
    if (this.failure !== null) return this.failure;
    this.classFile = wanted;
    return { ok: true, value: null };
  }

  onLinesWritten(listener: (written: LinesWritten) => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  async findCurrentDrill(): Promise<Result<CurrentDrill | null>> {
    const [drillId, drill] = [...this.drills].at(-1) ?? [];
    if (drillId === undefined || drill === undefined || isClosed(drill)) return { ok: true, value: null };
    return {
      ok: true,
      value: { drillId, ...drill, isClosed: false, zero: this.windowsOf(drillId).zero },
    };
  }

  async attendDrill(attendance: Attendance): Promise<Result<DrillWindows>> {
    this.windows.set(attendance.windowId, attendance);
    this.version += 1;
    const windows = this.windowsOf(attendance.drillId);
    this.tellWindows(windows);
    return { ok: true, value: windows };
  }

  async pingClock() {
    return { ok: true, value: { hostMs: this.hostMs } } as const;
  }

  async openWindow(): Promise<Result<null>> {
    return { ok: true, value: null };
  }

  async savePaper(fileName: string): Promise<Result<{ path: string | null }>> {
    this.papers.push(fileName);
    return { ok: true, value: { path: `/chosen/${fileName}` } };
  }

  onWindowsChanged(listener: (windows: DrillWindows) => void): () => void {
    this.windowListeners.add(listener);
    return () => this.windowListeners.delete(listener);
  }

  tellWindows(windows: DrillWindows): void {
    for (const listener of this.windowListeners) listener(windows);
  }

  private entries(): LedgerEntry[] {
    const skipped = { lines: 0, fields: 0, tornBytes: 0 };
    return [...this.drills.values()].map((drill) => {
      const { open, lines, fileName } = drill;
      return ledgerEntryOf({ open, lines, isClosed: isClosed(drill), skipped }, fileName);
    });
  }

  /** The number of drills in which somebody has another name now. */
  private rename(from: string, to: string, drillId: string | null): number {
    let count = 0;
    for (const [id, drill] of this.drills) {
      const rename = (name: string) => (personKey(name) === personKey(from) ? to : name);
      const people = { A: rename(drill.open.people.A), B: rename(drill.open.people.B) };
      const isSame = people.A === drill.open.people.A && people.B === drill.open.people.B;
      if (isSame || (drillId !== null && drillId !== id)) continue;
      drill.open = { ...drill.open, people };
      count += 1;
    }
    return count;
  }

  private windowsOf(drillId: string): DrillWindows {
    const windows = [...this.windows.values()].filter((one) => one.drillId === drillId);
    const zero = windows.findLast((one) => one.zero !== null)?.zero ?? { hostMs: 0, errorMs: null };
    return {
      drillId,
      version: this.version,
      windows,
      countId: windows[0]?.windowId ?? null,
      countGoneMs: null,
      zero,
    };
  }

  /** The lines of the only drill, as they would stand in its file. */
  get lines(): BodyLine[] {
    const [drill] = this.drills.values();
    return drill === undefined ? [] : drill.lines.map(({ line }) => line);
  }
}

function isClosed({ lines }: Kept): boolean {
  return lines.some(({ line }) => line.kind === 'close');
}
