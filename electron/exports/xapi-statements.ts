import { PERSONS, type Person, type Rig, type Roles } from '../../machines/journal.ts';
import type { Journal } from '../../machines/journal-reader.ts';
import { replay } from '../../machines/replay.ts';
import type { Figure } from '../../machines/scoring/figure.ts';
import {
  type BoutReport,
  type DrillReport,
  type ReportFigures,
  reportOf,
} from '../../machines/scoring/report.ts';
import { type Ms, toMs, toUs } from '../../machines/units.ts';
import { xapiActivityWords } from '../../machines/words/xapi-words.ts';
import { uuidV5 } from './uuid-v5.ts';

/**
 * Our own IRIs. Nobody can own a name under `.invalid` (reserved by RFC 2606), so they point at nobody's server and open
 * nothing; they only tell our terms from others'. An account's `homePage` must look like an address, which a urn does not.
 */
export const XAPI_HOME = 'https://antiphon.invalid/';
/** An activity a rig: what was done on a table is never pooled with what was done on a manikin. */
const activityIri = (role: keyof Roles, rig: Rig) => `${XAPI_HOME}xapi/activities/newborn-3-1/${rig}/${role}`;
const extensionIri = (key: string) => `${XAPI_HOME}xapi/extensions/${key}`;

/** ADL's own terms, by the IRIs in its published xAPI wrapper (github.com/adlnet/xAPIWrapper, src/verbs.js and src/activitytypes.js). */
const VERBS = {
  completed: verb('completed'),
  attempted: verb('attempted'),
};
const SIMULATION = 'http://adlnet.gov/expapi/activities/simulation';

type LanguageMap = { en: string };
type Agent = { objectType: 'Agent'; name?: string; account: { homePage: string; name: string } };
type Extensions = Readonly<Record<string, unknown>>;
export type Statement = {
  id: string;
  actor: Agent;
  verb: { id: string; display: LanguageMap };
  object: {
    objectType: 'Activity';
    id: string;
    definition: { name: LanguageMap; description: LanguageMap; type: string };
  };
  result: { completion: boolean; duration: string; extensions: Extensions };
  context: {
    registration: string;
    team: { objectType: 'Group'; member: Agent[] };
    platform: string;
    language: string;
    extensions: Extensions;
  };
  timestamp: string;
};

/**
 * A drill as xAPI statements, one for each person and role that was held in the bouts the drill's figures pool. No score
 * and no success: nobody gave one. Ids come from the drill's id, so that the same export gives the same statements; with
 * names left out they are others, since a store may not be given two statements of one id.
 */
export function xapiStatements(journal: Journal, areNamesLeftOut: boolean): Statement[] {
  const report = reportOf(replay(journal.open, journal.lines));
  const pooled = report.bouts.filter((bout) => bout.rig === report.drill.rig);
  return PERSONS.flatMap((person) =>
    ROLES.flatMap((role) => {
      const bouts = pooled.filter(({ roles }) => roles[role] === person);
      return bouts.length === 0 ? [] : [statementOf(report, person, role, bouts, areNamesLeftOut)];
    }),
  );
}

const ROLES = ['compressor', 'ventilator'] as const;

function statementOf(
  { drill }: DrillReport,
  person: Person,
  role: keyof Roles,
  bouts: readonly BoutReport[],
  areNamesLeftOut: boolean,
): Statement {
  const { id, people } = drill;
  const agent = (who: Person) => agentOf(id, who, areNamesLeftOut ? '' : people[who].name);
  const lengthMs = toMs(bouts.reduce((sum, { startMs, endMs }) => sum + toUs(endMs) - toUs(startMs), 0));
  const { name, description } = xapiActivityWords(role, drill.rig);
  return {
    id: uuidV5(id, `${person} ${role}${areNamesLeftOut ? ' without names' : ''}`),
    actor: agent(person),
    verb: drill.isClosed ? VERBS.completed : VERBS.attempted,
    object: {
      objectType: 'Activity',
      id: activityIri(role, drill.rig),
      definition: { name: { en: name }, description: { en: description }, type: SIMULATION },
    },
    result: {
      completion: drill.isClosed,
      duration: duration(lengthMs),
      extensions: figureExtensions(drill.people[person][role], role, lengthMs),
    },
    context: {
      registration: id,
      team: { objectType: 'Group', member: PERSONS.map(agent) },
      platform: 'Antiphon',
      language: 'en',
      extensions: extensions({
        role,
        rig: drill.rig,
        guideline: drill.guideline,
        tolerance: drill.tolerance,
        techniques: distinct(bouts.map(({ technique }) => technique)),
        stances: distinct(bouts.map(({ stance }) => stance)),
      }),
    },
    timestamp: timeAfter(drill.openedAt, bouts[0]?.startMs ?? 0),
  };
}

/** By the name as it was typed in, which is all that tells people apart here; without it, by drill and letter. */
function agentOf(drill: string, person: Person, name: string): Agent {
  const opaque = `${drill} ${person}`;
  if (name.trim() === '') return { objectType: 'Agent', account: { homePage: XAPI_HOME, name: opaque } };
  return { objectType: 'Agent', name, account: { homePage: XAPI_HOME, name } };
}

/** The figures as `score` has them, whole; one that there is not is left out, since nothing is not 0. */
function figureExtensions(figures: ReportFigures, role: keyof Roles, lengthMs: Ms): Extensions {
  const { cycles, cycleMs, clash, pauses, compressor, ventilator } = figures;
  const shared: Record<string, Figure> = {
    lengthMs,
    'cycles.total': cycles.total,
    'cycles.exact': cycles.exact,
    'cycles.coordinated': cycles.coordinated,
    coordinatedShare: figures.coordinatedShare,
    compressionsPerMin: figures.compressionsPerMin,
    breathsPerMin: figures.breathsPerMin,
    'cycleMs.median': cycleMs.median,
    'cycleMs.iqr': cycleMs.iqr,
    cycleJitterMs: figures.cycleJitterMs,
    'clash.count': clash.count,
    'pauses.count': pauses.count,
    'pauses.longestMs': pauses.longestMs,
  };
  const own: Record<keyof Roles, Record<string, Figure>> = {
    compressor: {
      'compressor.intervalMs.mean': compressor.intervalMs.mean,
      'compressor.intervalMs.sd': compressor.intervalMs.sd,
      'compressor.tripletJitterMs': compressor.tripletJitterMs,
      'compressor.dwellMs.mean': compressor.dwellMs.mean,
    },
    ventilator: {
      'breathLagMs.mean': figures.breathLagMs.mean,
      'breathLagMs.sd': figures.breathLagMs.sd,
      'breathLagRatio.mean': figures.breathLagRatio.mean,
      'breathLagRatio.sd': figures.breathLagRatio.sd,
      'ventilator.dwellMs.mean': ventilator.dwellMs.mean,
    },
  };
  const measured = Object.entries({ ...shared, ...own[role] }).filter(
    ([, value]) => typeof value === 'number',
  );
  return extensions(Object.fromEntries(measured));
}

function extensions(values: Readonly<Record<string, unknown>>): Extensions {
  return Object.fromEntries(Object.entries(values).map(([key, value]) => [extensionIri(key), value]));
}

function verb(name: string): { id: string; display: LanguageMap } {
  return { id: `http://adlnet.gov/expapi/verbs/${name}`, display: { en: name } };
}

/** Seconds to the hundredth, all that xAPI compares (xAPI-Data, section 4.6); the milliseconds are in an extension. */
function duration(ms: Ms): string {
  return `PT${(ms / 1000).toFixed(2)}S`;
}

/** The wall clock so many drill milliseconds after the drill opened, to the millisecond. */
function timeAfter(openedAt: string, ms: Ms): string {
  return new Date(Date.parse(openedAt) + ms).toISOString();
}

function distinct(values: readonly string[]): string[] {
  return [...new Set(values)];
}
