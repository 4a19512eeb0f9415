import { parseArgument } from './arguments.ts';
import type { ClassStore } from './class-store.ts';
import {
  type BridgeRequests,
  CHANNELS,
  type Channel,
  type Failure,
  type Result,
  type StationFacts,
  type WindowRole,
} from './contract.ts';
import type { JournalHost } from './journal-host.ts';
import type { Ledger } from './ledger/ledger.ts';
import type { PlanStore } from './plan-store.ts';
import type { SettingsStore } from './settings-store.ts';
import type { StandardStore } from './standard-store.ts';

/** Answers one request of a window. `Sender` is what the carrier knows of who asks. Never rejects. */
export type Handle<Sender> = (channel: string, argument: unknown, sender: Sender) => Promise<Result<unknown>>;
export type HandlerParts<Sender> = {
  isAllowed: (sender: Sender) => boolean;
  host: Pick<
    JournalHost,
    'openDrill' | 'append' | 'read' | 'remark' | 'list' | 'current' | 'attend' | 'time'
  >;
  ledger: Pick<
    Ledger,
    'list' | 'people' | 'person' | 'file' | 'renamePerson' | 'removePerson' | 'removeDrill' | 'search'
  >;
  settings: Pick<SettingsStore, 'load' | 'save'>;
  plans: Pick<PlanStore, 'list' | 'save' | 'remove'>;
  standards: Pick<StandardStore, 'list' | 'save' | 'remove'>;
  classes: Pick<ClassStore, 'load' | 'save'>;
  facts: StationFacts;
  /** Opens another window; left out where the page does that itself. */
  openWindow?: (role: WindowRole) => Promise<void>;
  /** Saves the pages for paper of the window that asks as a PDF; left out where the browser prints. */
  savePaper?: (fileName: string, sender: Sender) => Promise<Result<{ path: string | null }>>;
  /** Hears of mistakes of ours; what it hears does not cross to the window. */
  report: (error: unknown) => void;
};
type Work<Sender> = {
  [C in Channel]: (
    argument: BridgeRequests[C]['argument'],
    sender: Sender,
  ) => Promise<Result<BridgeRequests[C]['value']>>;
};

/** Both carriers use this: sender, then argument, then the work, and the result as data. */
export function makeHandlers<Sender>(parts: HandlerParts<Sender>): Handle<Sender> {
  const { host, ledger, settings, plans, standards, classes } = parts;
  const work: Work<Sender> = {
    'station:facts': async () => ({ ok: true, value: parts.facts }),
    'settings:load': async () => ({ ok: true, value: await settings.load() }),
    'settings:save': (wanted) => settings.save(wanted),
    'drill:open': (setup) => host.openDrill(setup),
    'drill:append': (batch) => host.append(batch),
    'drill:read': ({ drillId }) => host.read(drillId),
    'drill:remark': (remarked) => host.remark(remarked),
    'drill:list': () => host.list(),
    'ledger:list': (query) => ledger.list(query),
    'ledger:people': () => ledger.people(),
    'ledger:person': async ({ name }) =>
      await ledger.person(name, (await settings.load())?.dueAfterDays ?? null),
    'ledger:file': (filing) => ledger.file(filing),
    'ledger:rename-person': (correction) => ledger.renamePerson(correction),
    'ledger:remove-person': ({ name }) => ledger.removePerson(name),
    'ledger:remove-drill': ({ drillId }) => ledger.removeDrill(drillId),
    'ledger:search': ({ name }) => ledger.search(name),
    'plan:list': () => plans.list(),
    'plan:save': (wanted) => plans.save(wanted),
    'plan:remove': (wanted) => plans.remove(wanted),
    'standard:list': () => standards.list(),
    'standard:save': (wanted) => standards.save(wanted),
    'standard:remove': (wanted) => standards.remove(wanted),
    'class:load': () => classes.load(),
    'class:save': (wanted) => classes.save(wanted),
    'drill:current': () => host.current(),
    'drill:attend': (attendance) => host.attend(attendance),
    'clock:ping': async () => ({ ok: true, value: host.time() }),
    'window:open': async ({ role }) => {
      if (parts.openWindow === undefined) return refuseWindow();
      await parts.openWindow(role);
      return { ok: true, value: null };
    },
    'paper:save': async ({ fileName }, sender) =>
      parts.savePaper === undefined ? refusePaper() : await parts.savePaper(fileName, sender),
  };
  return async (channel, argument, sender) => {
    try {
      if (!parts.isAllowed(sender)) return notAllowed();
      if (!isChannel(channel))
        return { ok: false, code: 'bad-argument', message: 'there is no such request' };
      return await answer(work, channel, argument, sender);
    } catch (error) {
      parts.report(error);
      return { ok: false, code: 'internal', message: 'the station made a mistake; what was saved is safe' };
    }
  };
}

export function isChannel(name: string): name is Channel {
  return (CHANNELS as readonly string[]).includes(name);
}

export function notAllowed(): Failure {
  return { ok: false, code: 'not-allowed', message: 'only the window of this station may ask' };
}

function refusePaper(): Failure {
  return { ok: false, code: 'bad-argument', message: 'here the browser prints' };
}

function refuseWindow(): Failure {
  return { ok: false, code: 'bad-argument', message: 'here the page opens its windows itself' };
}

async function answer<C extends Channel, Sender>(
  work: Work<Sender>,
  channel: C,
  argument: unknown,
  sender: Sender,
): Promise<Result<unknown>> {
  const parsed = parseArgument[channel](argument);
  return parsed.ok ? await work[channel](parsed.value, sender) : parsed;
}
