import { type Bridge, MAX_LEDGER_COUNT, type Result } from '../../electron/contract.ts';
import { type LedgerFilter, type LedgerPerson, NO_FILTER } from '../../machines/ledger/filter.ts';
import type { LedgerEntry } from '../../machines/ledger/ledger-entry.ts';
import type { LeftAlone, Removal } from '../../machines/ledger/ledger-requests.ts';
import { personKey } from '../../machines/ledger/person-name.ts';
import type { PersonPage } from '../../machines/ledger/person-page.ts';
import { LEDGER_LIST_WORDS as WORDS } from '../../machines/words/screen-ledger.ts';
import { startingSettings } from './set-up-form.ts';

type LedgerBridge = Pick<
  Bridge,
  | 'listLedger'
  | 'listPeople'
  | 'loadPerson'
  | 'fileDrill'
  | 'renamePerson'
  | 'removePerson'
  | 'removeDrill'
  | 'searchName'
  | 'loadSettings'
  | 'saveSettings'
>;
/** "2026-03-02", both included. */
type LedgerDays = { from: string; to: string };
const NO_DAYS: LedgerDays = { from: '', to: '' };
/** What a removal did, and the files in which the name was found afterwards. */
export type ProvenRemoval = { removal: Removal; files: readonly string[] };

/** Entries that are shown at first and with each "more" (tool default): more would only make the page slow to draw. */
export const LEDGER_PART = 100;
/** How often the list is asked for anew while journals are still being read behind it (tool default). */
const READING_MS = 2000;

/** The Ledger as the window has it: what is shown of it stays so while a drill's Debrief is looked at. */
export class LedgerShelf {
  filter: LedgerFilter = NO_FILTER;
  /** The calendar days, here, that the filter's times were made from; empty: none. */
  days: LedgerDays = NO_DAYS;
  entries: readonly LedgerEntry[] = [];
  /** Null until the host has answered. */
  total: number | null = null;
  unread = 0;
  leftAlone: readonly LeftAlone[] = [];
  people: readonly LedgerPerson[] = [];
  /** Whose page is shown; null: the list is. */
  personName: string | null = null;
  /** The drill that was opened last: where to come back to. */
  openedId: string | null = null;
  /** What the host said last when it could not do what was asked; null: nothing. */
  problem: string | null = null;
  /** What was done last. */
  news: string | null = null;
  /** Grows with every change. */
  version = 0;
  private readonly bridge: LedgerBridge;
  private readonly wake: (afterMs: number, then: () => void) => () => void;
  private readonly listeners = new Set<() => void>();
  private wantedCount = LEDGER_PART;
  private isWanted = false;
  private asking: Promise<void> | null = null;
  private stopWaking: () => void = () => undefined;
  private isShown = false;

  constructor(bridge: LedgerBridge, wake: (afterMs: number, then: () => void) => () => void) {
    this.bridge = bridge;
    this.wake = wake;
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  /** From Set-up: the whole list from its top. */
  begin(): void {
    this.filter = NO_FILTER;
    this.days = NO_DAYS;
    this.wantedCount = LEDGER_PART;
    this.entries = [];
    this.total = null;
    this.personName = null;
    this.openedId = null;
    this.change(null, null);
  }

  /** The screen is there; returns what stops the asking. */
  show(): () => void {
    this.isShown = true;
    void this.refresh();
    void this.refreshPeople();
    return () => {
      this.isShown = false;
      this.stopWaking();
    };
  }

  async setFilter(changes: Partial<LedgerFilter>): Promise<void> {
    this.filter = { ...this.filter, ...changes };
    this.wantedCount = LEDGER_PART;
    this.change(null, null);
    await this.refresh();
  }

  /** `startOf` tells when a day begins, here, so many days later; null for what is no day. */
  async setDays(days: LedgerDays, startOf: (day: string, daysAfter: number) => string | null): Promise<void> {
    this.days = days;
    await this.setFilter({ from: startOf(days.from, 0), before: startOf(days.to, 1) });
  }

  async clearFilter(): Promise<void> {
    this.days = NO_DAYS;
    await this.setFilter(NO_FILTER);
  }

  get hasFilter(): boolean {
    return Object.entries(NO_FILTER).some(([key, value]) => this.filter[key as keyof LedgerFilter] !== value);
  }

  async showMore(): Promise<void> {
    this.wantedCount = this.entries.length + LEDGER_PART;
    await this.refresh();
  }

  /** Null: back to the list. */
  showPerson(name: string | null): void {
    this.personName = name;
    this.openedId = null;
    this.change(null, null);
  }

  /** One question is under way at a time; what is wanted meanwhile is asked next, and an answer that is no longer wanted is dropped. */
  refresh(): Promise<void> {
    this.isWanted = true;
    this.asking ??= this.askWhileWanted().finally(() => {
      this.asking = null;
    });
    return this.asking;
  }

  loadPerson(name: string): Promise<Result<PersonPage | null>> {
    return this.bridge.loadPerson(name);
  }

  async setTitle(entry: LedgerEntry, title: string): Promise<void> {
    const { drillId, isArchived } = entry;
    const wanted = title.trim() === '' ? null : title.trim();
    await this.ask(
      this.bridge.fileDrill({ drillId, title: wanted, archived: isArchived }),
      () => WORDS.titled,
    );
  }

  async setArchived({ drillId, title }: LedgerEntry, archived: boolean): Promise<void> {
    const done = archived ? WORDS.archivedNow : WORDS.unarchivedNow;
    await this.ask(this.bridge.fileDrill({ drillId, title, archived }), () => done);
  }

  /** `drillId` null: in every drill. */
  async rename(from: string, to: string, drillId: string | null): Promise<void> {
    await this.ask(this.bridge.renamePerson({ from, to, drillId }), ({ drills }) => {
      // The drills that were shown for the wrong name are shown for the right one.
      if (
        drillId === null &&
        this.filter.person !== null &&
        personKey(this.filter.person) === personKey(from)
      )
        this.filter = { ...this.filter, person: to.trim() };
      return WORDS.renamed(drills);
    });
  }

  async removeDrill(drillId: string): Promise<void> {
    await this.ask(this.bridge.removeDrill(drillId), () => WORDS.removed);
  }

  /** Removes a person and searches the folder for the name afterwards; null when it could not be done, or not wholly. */
  async removePerson(name: string): Promise<ProvenRemoval | null> {
    const removal = await this.ask(this.bridge.removePerson(name), () => null);
    if (removal === null) return null;
    // What was looked for may be the name.
    await this.setFilter({ person: null, text: null });
    const files = await this.search(name);
    return files === null ? null : { removal, files };
  }

  /** The files in which a name stands; null when they cannot all be searched. */
  async search(name: string): Promise<readonly string[] | null> {
    const found = await this.bridge.searchName(name);
    this.change(found.ok ? null : found.message, this.news);
    return found.ok ? found.value.files : null;
  }

  /** Sets the course's own interval, in days; null: none. True if it was saved. */
  async setInterval(dueAfterDays: number | null): Promise<boolean> {
    const kept = await this.bridge.loadSettings();
    const saved = kept.ok
      ? await this.bridge.saveSettings({ ...startingSettings(kept.value), dueAfterDays })
      : kept;
    this.change(saved.ok ? null : saved.message, null);
    return saved.ok;
  }

  /** The interval that is set, in days; null: none. */
  async interval(): Promise<number | null> {
    const kept = await this.bridge.loadSettings();
    return kept.ok ? (kept.value?.dueAfterDays ?? null) : null;
  }

  private async ask<T>(request: Promise<Result<T>>, newsOf: (value: T) => string | null): Promise<T | null> {
    const result = await request;
    this.change(result.ok ? null : result.message, result.ok ? newsOf(result.value) : null);
    // Some of it may have been done also where it failed.
    await Promise.all([this.refresh(), this.refreshPeople()]);
    return result.ok ? result.value : null;
  }

  private async askWhileWanted(): Promise<void> {
    while (this.isWanted) {
      this.isWanted = false;
      await this.askOnce();
    }
    this.stopWaking();
    if (this.isShown && this.unread > 0) {
      this.stopWaking = this.wake(READING_MS, () => {
        void this.refresh().then(() => {
          if (this.unread === 0) void this.refreshPeople();
        });
      });
    }
  }

  private async askOnce(): Promise<void> {
    const { filter, wantedCount } = this;
    const entries: LedgerEntry[] = [];
    while (entries.length < wantedCount) {
      const count = Math.min(MAX_LEDGER_COUNT, wantedCount - entries.length);
      const listed = await this.bridge.listLedger({ filter, from: entries.length, count });
      if (filter !== this.filter) return;
      if (!listed.ok) return this.change(listed.message, null);
      entries.push(...listed.value.entries);
      const { total, unread, leftAlone } = listed.value;
      Object.assign(this, { total, unread, leftAlone });
      if (listed.value.entries.length < count) break;
    }
    this.entries = entries;
    this.change(this.problem, this.news);
  }

  private async refreshPeople(): Promise<void> {
    const people = await this.bridge.listPeople();
    if (people.ok) this.people = people.value;
    this.change(this.problem, this.news);
  }

  private change(problem: string | null, news: string | null): void {
    this.problem = problem;
    this.news = news;
    this.version += 1;
    for (const listener of this.listeners) listener();
  }
}
