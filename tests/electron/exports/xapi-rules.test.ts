import xapiValidation from '@learninglocker/xapi-validation';
import { describe, expect, it } from 'vitest';
import { type Statement, xapiStatements } from '../../../electron/exports/xapi-statements.ts';
import { scoreJournal } from '../../../machines/replay.ts';
import { journalOf, richDrill } from '../../support/exported.ts';
import { JournalBuilder } from '../../support/journal-builder.ts';

/**
 * The rules that a statement must keep, each with its section in the public text they were read in: github.com/adlnet/xAPI-Spec,
 * xAPI-Data.md (1.0.3), which IEEE 9274.1.1 follows. That standard itself was not read.
 */

const statements = (builder = richDrill(), areNamesLeftOut = false) =>
  JSON.parse(JSON.stringify(xapiStatements(journalOf(builder), areNamesLeftOut))) as Statement[];

const tableDrill = () => new JournalBuilder({ rig: 'rhythm' }).call(0, 'begin').ideal(1000, 3);

describe('a drill as xAPI statements', () => {
  it('is a statement for each person and role that was held', () => {
    expect(
      statements().map(({ actor, object, timestamp, result }) => [
        actor.account.name,
        object.id.split('/').at(-1),
        timestamp,
        result.duration,
      ]),
    ).toEqual([
      ['Zelda, the "first"', 'compressor', '2026-03-02T09:30:01.000Z', 'PT9.50S'],
      ['Zelda, the "first"', 'ventilator', '2026-03-02T09:30:10.500Z', 'PT6.50S'],
      ['=Zeno', 'compressor', '2026-03-02T09:30:10.500Z', 'PT6.50S'],
      ['=Zeno', 'ventilator', '2026-03-02T09:30:01.000Z', 'PT9.50S'],
    ]);
    expect(statements(new JournalBuilder())).toEqual([]);
  });

  it('is what a learning record store’s own public validator takes, with names and without', () => {
    const all = [...statements(), ...statements(richDrill(), true), ...statements(tableDrill())];
    expect(all.length).toBe(10);
    for (const statement of all) expect(xapiValidation(statement)).toEqual([]);
    const [first] = all;
    expect(xapiValidation({ ...first, id: 'the first' }).length).toBe(1);
    expect(xapiValidation({ ...first, actor: { objectType: 'Agent', name: 'Ada' } }).length).toBe(1);
  });

  it('keeps what was done on a table apart from what was done on a manikin', () => {
    const [first] = statements(tableDrill());
    expect(first?.object.id).toBe('https://antiphon.invalid/xapi/activities/newborn-3-1/rhythm/compressor');
    expect(first?.object.definition.description.en).toContain('Rhythm rig:');
  });

  // 2.4, table: actor, verb and object are required; 2.2.s3.b6: no further properties.
  it('has the properties that a statement may have, and no others', () => {
    for (const statement of statements()) {
      expect(Object.keys(statement)).toEqual([
        'id',
        'actor',
        'verb',
        'object',
        'result',
        'context',
        'timestamp',
      ]);
      expect(Object.keys(statement.object)).toEqual(['objectType', 'id', 'definition']);
      expect(Object.keys(statement.object.definition)).toEqual(['name', 'description', 'type']);
    }
  });

  // 2.2.s4.b1.b1: no null but inside extensions; 2.2.s2.b1: no empty object.
  it('has no null and no empty object anywhere', () => {
    const walk = (value: unknown): void => {
      expect(value).not.toBeNull();
      if (typeof value !== 'object' || value === null) return;
      expect(Object.keys(value).length).toBeGreaterThan(0);
      Object.values(value).forEach(walk);
    };
    walk(statements());
  });

  // 2.4.1 and 4.4: a UUID of RFC 4122's variant, in standard form; 2.4.6: registration is one.
  it('has ids that are UUIDs, all different, and the same each time', () => {
    const ids = [...statements(), ...statements(richDrill(), true)].map(({ id }) => id);
    for (const id of ids)
      expect(id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-5[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
    expect(new Set(ids).size).toBe(8);
    expect(statements()).toEqual(statements());
    expect(new Set(statements().map(({ context }) => context.registration))).toEqual(
      new Set(['7b1f7c1e-6d5a-4d0e-9a44-0c5b7c1d2e3f']),
    );
  });

  // 2.4.2.1: an Agent has exactly one identifier; 2.4.2.4: an account has homePage, an IRL, and name; an opaque one hides the person.
  it('tells people by an account and nothing else, an opaque one where names are left out', () => {
    const keys = ({ actor }: Statement) => [Object.keys(actor), Object.keys(actor.account)];
    for (const one of statements())
      expect(keys(one)).toEqual([
        ['objectType', 'name', 'account'],
        ['homePage', 'name'],
      ]);
    const nameless = statements(richDrill(), true);
    expect(nameless.map(({ actor }) => actor)).toEqual(
      ['A', 'A', 'B', 'B'].map((letter) => ({
        objectType: 'Agent',
        account: {
          homePage: 'https://antiphon.invalid/',
          name: `7b1f7c1e-6d5a-4d0e-9a44-0c5b7c1d2e3f ${letter}`,
        },
      })),
    );
    expect(JSON.stringify(nameless)).not.toMatch(/Zel|Zen/);
  });

  it('has an opaque account for one who typed no name', () => {
    const builder = new JournalBuilder({ people: { A: ' ', B: 'Ben' } }).call(0, 'begin').ideal(1000, 2);
    expect(statements(builder).map(({ actor }) => actor.account.name)).toEqual([
      '7b1f7c1e-6d5a-4d0e-9a44-0c5b7c1d2e3f A',
      'Ben',
    ]);
  });

  // 2.4.3 and 4.2: display is a language map; 2.2.s4.b1.b8 and 4.1: what is to be an IRI has a scheme, extensions' keys too.
  it('has IRIs with a scheme, and words by language', () => {
    for (const { verb, object, result, context, actor } of statements()) {
      const iris = [
        verb.id,
        object.id,
        object.definition.type,
        actor.account.homePage,
        ...Object.keys(result.extensions),
        ...Object.keys(context.extensions),
      ];
      for (const iri of iris) expect(iri).toMatch(/^https?:\/\/[a-z.]+\/[A-Za-z0-9/.-]*$/);
      expect(
        Object.keys({ ...verb.display, ...object.definition.name, ...object.definition.description }),
      ).toEqual(['en']);
    }
  });

  // The two verbs of github.com/adlnet/xAPIWrapper, src/verbs.js. "completed" is "finished or concluded the activity normally".
  it('completed a drill that was closed, and attempted one that was left open', () => {
    const open = { ...journalOf(new JournalBuilder().call(0, 'begin').ideal(1000, 2)), isClosed: false };
    expect(
      new Set(xapiStatements(open, false).map(({ verb, result }) => `${verb.id} ${result.completion}`)),
    ).toEqual(new Set(['http://adlnet.gov/expapi/verbs/attempted false']));
    const closed = new JournalBuilder().call(0, 'begin').ideal(1000, 2).line({ kind: 'close', at: 9000 });
    expect(new Set(statements(closed).map(({ verb, result }) => `${verb.id} ${result.completion}`))).toEqual(
      new Set(['http://adlnet.gov/expapi/verbs/completed true']),
    );
  });

  // 4.5: ISO 8601 to the millisecond, with its zone; 4.6: ISO 8601 durations, to 0.01 s at the most.
  it('has times and lengths as they are to be written, the milliseconds in an extension', () => {
    for (const { timestamp, result } of statements()) {
      expect(timestamp).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/);
      expect(result.duration).toMatch(/^PT\d+\.\d\dS$/);
    }
    expect(statements()[0]?.result.extensions['https://antiphon.invalid/xapi/extensions/lengthMs']).toBe(
      9500,
    );
  });

  it('has the report’s figures of that person in that role, and neither a score nor success', () => {
    const { people } = scoreJournal(journalOf(richDrill())).report.drill;
    const [first, second] = statements();
    const get = (one: Statement | undefined, key: string) =>
      one?.result.extensions[`https://antiphon.invalid/xapi/extensions/${key}`];
    expect([get(first, 'cycles.total'), get(first, 'coordinatedShare'), get(first, 'clash.count')]).toEqual([
      3,
      2 / 3,
      1,
    ]);
    expect(get(first, 'compressor.intervalMs.mean')).toBe(people.A.compressor.compressor.intervalMs.mean);
    expect(get(second, 'breathLagMs.mean')).toBe(people.A.ventilator.breathLagMs.mean);
    expect(get(first, 'breathLagMs.mean')).toBeUndefined();
    for (const { result } of statements())
      expect(Object.keys(result)).toEqual(['completion', 'duration', 'extensions']);
  });

  it('states the cautions where people read what was done', () => {
    for (const { object } of statements()) {
      expect(object.definition.description.en).toContain('For training on manikins only.');
      expect(object.definition.description.en).toContain('Timing only:');
    }
  });
});
