import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { CHANNELS, type LinesWritten } from '../../electron/contract.ts';
import { type ClassFile, newClass } from '../../machines/class/class-file.ts';
import { NO_FILTER } from '../../machines/ledger/filter.ts';
import { newPlan, READY_MADE } from '../../machines/plans/ready-made.ts';
import { EXAMPLE_STANDARD } from '../../machines/standard/standard.ts';
import { JournalSender } from '../../renderer/adapters/journal-sender.ts';
import { CARRIERS, type CarriedStation } from '../support/carriers.ts';
import {
  edgeAt,
  edges,
  numbered,
  OPENED_AT,
  SETTINGS,
  setupOf,
  textOf,
  WINDOW_ID,
} from '../support/drills.ts';
import { ForgetfulDisk } from '../support/forgetful-disk.ts';

describe.each(Object.entries(CARRIERS))('over %s', (_name, startStation) => {
  test('a drill is opened, written, read back and listed', async () => {
    const { bridge, folder } = await startStation();
    const opened = await bridge.openDrill(setupOf());
    const open = {
      kind: 'open',
      version: 1,
      id: '00000001-0000-4000-8000-000000000000',
      openedAt: OPENED_AT,
      ...setupOf(),
    } as const;
    const fileName = '2026-03-02T09-30-00Z-00000001.antiphon.jsonl';
    expect(opened).toEqual({ ok: true, value: { drillId: open.id, fileName, open } });

    const lines = [edgeAt(1000.2), edgeAt(1190.7, false), { kind: 'close', at: 2000 } as const];
    const batch = { drillId: open.id, windowId: WINDOW_ID, sequence: 1, lines };
    expect(await bridge.appendLines(batch)).toEqual({ ok: true, value: { throughLine: 4 } });
    expect(await readFile(join(folder, 'journals', fileName), 'utf8')).toBe(textOf(open, ...lines));
    expect(await bridge.readDrill(open.id)).toEqual({
      ok: true,
      value: { drillId: open.id, fileName, open, lines: numbered(lines), isClosed: true },
    });
    expect(await bridge.listDrills()).toEqual({
      ok: true,
      value: [
        { drillId: open.id, fileName, openedAt: OPENED_AT, names: { A: 'Ada', B: 'Ben' }, isClosed: true },
      ],
    });
  });

  test('a drill is found in the Ledger, filed, renamed and removed, but not while it runs', async () => {
    const { bridge, folder } = await startStation();
    const drillId = await openDrill(bridge);
    const query = { filter: { ...NO_FILTER, person: 'ADA' }, from: 0, count: 50 };
    const running = {
      ok: false,
      code: 'not-allowed',
      message: 'the drill is still running: finish it first',
    };
    expect(await bridge.listLedger(query)).toMatchObject({ ok: true, value: { total: 1, unread: 0 } });
    expect(await bridge.fileDrill({ drillId, title: 'First', archived: true })).toEqual(running);
    expect(await bridge.renamePerson({ from: 'Ada', to: 'Ida', drillId: null })).toEqual(running);
    expect(await bridge.removePerson('Ada')).toEqual(running);
    expect(await bridge.removeDrill(drillId)).toEqual(running);

    const lines = [{ kind: 'close', at: 2000 } as const];
    await bridge.appendLines({ drillId, windowId: WINDOW_ID, sequence: 1, lines });
    expect(await bridge.fileDrill({ drillId, title: ' First ', archived: true })).toEqual({
      ok: true,
      value: null,
    });
    expect(await bridge.renamePerson({ from: 'ada', to: 'Ida', drillId: null })).toEqual({
      ok: true,
      value: { drills: 1 },
    });
    expect(await bridge.readDrill(drillId)).toMatchObject({
      ok: true,
      value: { open: { people: { A: 'Ida', B: 'Ben' }, filed: { title: 'First', archived: true } } },
    });
    expect(await bridge.listLedger(query)).toMatchObject({ ok: true, value: { total: 0 } });
    expect(await bridge.listPeople()).toEqual({
      ok: true,
      value: [
        { name: 'Ben', drills: 1, lastDrillAt: OPENED_AT },
        { name: 'Ida', drills: 1, lastDrillAt: OPENED_AT },
      ],
    });
    await bridge.saveSettings({ ...SETTINGS, people: { A: 'Ida', B: 'Ben' }, dueAfterDays: 30 });
    expect(await bridge.loadPerson('Ida')).toMatchObject({
      ok: true,
      value: { name: 'Ida', drills: 1, dueOn: null },
    });
    expect(await bridge.searchName('Ida')).toEqual({
      ok: true,
      value: {
        files: [
          'journals/2026-03-02T09-30-00Z-00000001.antiphon.jsonl',
          'journals/ledger-index.json',
          'settings.json',
        ],
      },
    });
    expect(await bridge.removePerson('Ida')).toEqual({
      ok: true,
      value: { drills: 1, removedDrills: 0, leftIn: [] },
    });
    expect(await bridge.loadPerson('Ida')).toEqual({ ok: true, value: null });
    expect(await bridge.loadSettings()).toMatchObject({ ok: true, value: { people: { A: '', B: 'Ben' } } });
    expect(await bridge.removeDrill(drillId)).toEqual({ ok: true, value: null });
    expect(await bridge.listDrills()).toEqual({ ok: true, value: [] });
    expect(await readdir(join(folder, 'journals'))).toEqual(['ledger-index.json']);
  });

  test('settings are remembered, and nothing is before the first time', async () => {
    const { bridge } = await startStation();
    expect(await bridge.loadSettings()).toEqual({ ok: true, value: null });
    expect(await bridge.saveSettings(SETTINGS)).toEqual({ ok: true, value: null });
    expect(await bridge.loadSettings()).toEqual({ ok: true, value: SETTINGS });
  });

  test('plans are saved under a name of their own, changed, listed in order and removed', async () => {
    const { bridge, folder } = await startStation();
    expect(await bridge.listPlans()).toEqual({ ok: true, value: [] });
    const plan = READY_MADE['cold-minute'];
    const names = ['cold-minute-1', 'cold-minute-2'].map((name) => `${name}.antiphon-plan.json`);
    for (const fileName of names) {
      expect(await bridge.savePlan(null, plan)).toEqual({ ok: true, value: { fileName } });
    }
    const [first = '', second = ''] = names;
    const changed = newPlan('Größe');
    expect(await bridge.savePlan(second, changed)).toEqual({ ok: true, value: { fileName: second } });
    expect(await bridge.listPlans()).toEqual({
      ok: true,
      value: [
        { fileName: first, plan, problem: null },
        { fileName: second, plan: changed, problem: null },
      ],
    });
    expect(await readFile(join(folder, 'plans', second), 'utf8')).toBe(
      `${JSON.stringify(changed, null, 2)}\n`,
    );
    expect(await bridge.removePlan(first)).toEqual({ ok: true, value: null });
    expect(await bridge.removePlan(first)).toEqual({ ok: true, value: null });
    expect(await bridge.listPlans()).toMatchObject({ ok: true, value: [{ fileName: second }] });
  });

  test('a course’s standard is saved, listed and removed', async () => {
    const { bridge, folder } = await startStation();
    expect(await bridge.listStandards()).toEqual({ ok: true, value: [] });
    const fileName = 'example-1.antiphon-standard.json';
    expect(await bridge.saveStandard(null, EXAMPLE_STANDARD)).toEqual({ ok: true, value: { fileName } });
    const standard = { ...EXAMPLE_STANDARD, name: 'Ours' };
    expect(await bridge.saveStandard(fileName, standard)).toEqual({ ok: true, value: { fileName } });
    expect(await bridge.listStandards()).toEqual({
      ok: true,
      value: [{ fileName, standard, problem: null }],
    });
    expect(await readFile(join(folder, 'standards', fileName), 'utf8')).toContain('"Ours"');
    expect(await bridge.removeStandard(fileName)).toEqual({ ok: true, value: null });
    expect(await bridge.listStandards()).toEqual({ ok: true, value: [] });
  });

  test('the day’s class is remembered with the turns that were held', async () => {
    const { bridge } = await startStation();
    expect(await bridge.loadClass()).toEqual({ ok: true, value: null });
    expect(await bridge.saveClass(CLASS)).toEqual({ ok: true, value: null });
    expect(await bridge.loadClass()).toEqual({ ok: true, value: CLASS });
  });

  test('the station says where its journals are', async () => {
    const { bridge, facts } = await startStation();
    expect(await bridge.loadFacts()).toEqual({ ok: true, value: facts });
  });

  test('a window hears of lines once they are on the disk, numbered, until it stops listening', async () => {
    const { bridge } = await startStation();
    const drillId = await openDrill(bridge);
    const heard = makeEar();
    const stop = bridge.onLinesWritten(heard.listener);
    await bridge.appendLines({ drillId, windowId: WINDOW_ID, sequence: 1, lines: edges(2) });
    expect(await heard.next()).toEqual({ drillId, lines: numbered(edges(2)) });
    stop();
    await bridge.appendLines({ drillId, windowId: WINDOW_ID, sequence: 2, lines: edges(1, 3) });
    await bridge.readDrill(drillId);
    expect(heard.count()).toBe(1);
  });

  test('a closed drill is marked and signed, at its last line’s time, and windows hear of it', async () => {
    const { bridge, folder } = await startStation();
    const drillId = await openDrill(bridge);
    const lines = [edgeAt(1000.2), { kind: 'close', at: 2000 } as const];
    const heard = makeEar();
    bridge.onLinesWritten(heard.listener);
    await bridge.appendLines({ drillId, windowId: WINDOW_ID, sequence: 1, lines });
    expect(await heard.next()).toEqual({ drillId, lines: numbered(lines) });
    const sent = { ...SIGNATURE, at: 9, signedAt: '1999-01-01T00:00:00Z', colour: 'green' };
    const answer = await bridge.remarkDrill(drillId, [MARK, sent]);
    const added = [
      { ...MARK, at: 2000 },
      { ...SIGNATURE, at: 2000, signedAt: OPENED_AT },
    ];
    expect(answer).toMatchObject({
      ok: true,
      value: { drillId, lines: numbered([...lines, ...added]), isClosed: true },
    });
    expect(await heard.next()).toEqual({ drillId, lines: numbered(added, 4) });
    expect(await bridge.readDrill(drillId)).toEqual(answer);
    if (!answer.ok) throw new Error(answer.message);
    const { fileName, open } = answer.value;
    expect(
      (await readFile(join(folder, 'journals', fileName), 'utf8'))
        .trimEnd()
        .split('\n')
        .map((text) => JSON.parse(text)),
    ).toEqual([open, ...lines, ...added]);
  });

  test('2,000 lines sent at once keep their order', async () => {
    const { bridge } = await startStation();
    const drillId = await openDrill(bridge);
    const sender = makeSender(bridge, drillId);
    const lines = edges(2000);
    const answers = await Promise.all(lines.map((line) => sender.send(line)));
    expect(answers.filter((answer) => !answer.ok)).toEqual([]);
    const read = await bridge.readDrill(drillId);
    expect(read.ok && read.value.lines).toEqual(numbered(lines));
  });

  test('2,000 lines sent while others are under way keep their order', async () => {
    const { bridge } = await startStation(new ForgetfulDisk());
    const drillId = await openDrill(bridge);
    const sender = makeSender(bridge, drillId);
    const lines = edges(2000);
    const answers: Promise<unknown>[] = [];
    for (const [index, line] of lines.entries()) {
      answers.push(sender.send(line));
      if (index % 50 === 0) await new Promise((resolve) => setImmediate(resolve));
    }
    await Promise.all(answers);
    const read = await bridge.readDrill(drillId);
    expect(read.ok && read.value.lines).toEqual(numbered(lines));
  });

  test.each(HOSTILE)('%s with %s is refused with %s', async (channel, _what, code, argument) => {
    const { ask, classes, host, mistakes, plans, settings, standards } = await startStation();
    const result = await ask(channel, argument);
    expect(result).toMatchObject({ ok: false, code });
    expect(mistakes).toEqual([]);
    expect(await host.list()).toEqual({ ok: true, value: [] });
    expect(await settings.load()).toBe(null);
    expect(await plans.list()).toEqual({ ok: true, value: [] });
    expect(await standards.list()).toEqual({ ok: true, value: [] });
    expect(await classes.load()).toEqual({ ok: true, value: null });
  });

  test.each([...CHANNELS])('%s is not for strangers', async (channel) => {
    const { strangers, host, settings } = await startStation();
    for (const [who, ask] of Object.entries(strangers)) {
      expect([who, await ask(channel, ARGUMENTS[channel])]).toMatchObject([
        who,
        { ok: false, code: 'not-allowed' },
      ]);
    }
    expect(await host.list()).toEqual({ ok: true, value: [] });
    expect(await settings.load()).toBe(null);
  });

  test('a mistake of ours crosses as a code, without its path and stack', async () => {
    const { ask, host, mistakes } = await startStation();
    host.list = () => Promise.reject(new Error('/home/ada/secret broke'));
    expect(await ask('drill:list', null)).toEqual({
      ok: false,
      code: 'internal',
      message: 'the station made a mistake; what was saved is safe',
    });
    expect(mistakes).toHaveLength(1);
  });
});

const SIGNATURE = {
  kind: 'signature',
  person: 'A',
  by: 'Cleo',
  standard: 'The course’s own',
  decision: 'met',
} as const;
const MARK = { kind: 'mark', row: 1000.2, missed: true } as const;
const DRILL_ID = '00000001-0000-4000-8000-000000000000';
const batchOf = (changes: object) => ({
  drillId: DRILL_ID,
  windowId: WINDOW_ID,
  sequence: 1,
  lines: edges(1),
  ...changes,
});
function remarkedOf(changes: object): object {
  return { drillId: DRILL_ID, remarks: [MARK], ...changes };
}
function attendanceOf(changes: object): object {
  return { drillId: DRILL_ID, windowId: WINDOW_ID, role: 'learners', hasFocus: true, zero: null, ...changes };
}
const CLASS: ClassFile = {
  ...newClass(['Ada', 'Zoë', 'Cleo'], 2),
  done: [{ groups: [{ station: 1, chest: 'Ada', airway: 'Zoë', observer: 'Cleo' }] }],
};
const ARGUMENTS: Record<(typeof CHANNELS)[number], unknown> = {
  'station:facts': null,
  'settings:load': null,
  'settings:save': SETTINGS,
  'drill:open': setupOf(),
  'drill:append': batchOf({}),
  'drill:read': { drillId: DRILL_ID },
  'drill:remark': remarkedOf({}),
  'drill:list': null,
  'ledger:list': { filter: NO_FILTER, from: 0, count: 50 },
  'ledger:people': null,
  'ledger:person': { name: 'Ada' },
  'ledger:file': { drillId: DRILL_ID, title: 'First', archived: false },
  'ledger:rename-person': { from: 'Ada', to: 'Ida', drillId: null },
  'ledger:remove-person': { name: 'Ada' },
  'ledger:remove-drill': { drillId: DRILL_ID },
  'ledger:search': { name: 'Ada' },
  'plan:list': null,
  'plan:save': { fileName: null, plan: newPlan('A plan') },
  'plan:remove': { fileName: 'a-plan-1.antiphon-plan.json' },
  'standard:list': null,
  'standard:save': { fileName: null, standard: EXAMPLE_STANDARD },
  'standard:remove': { fileName: 'example-1.antiphon-standard.json' },
  'class:load': null,
  'class:save': CLASS,
  'drill:current': null,
  'drill:attend': attendanceOf({}),
  'clock:ping': null,
  'window:open': { role: 'learners' },
  'paper:save': { fileName: 'drill.pdf' },
};
/** Channel, what is wrong, the code it is refused with, the argument. */
const HOSTILE: [string, string, string, unknown][] = [
  ['station:facts', 'an argument', 'bad-argument', { path: '/' }],
  ['settings:load', 'an argument', 'bad-argument', 'settings.json'],
  ['settings:save', 'nothing', 'bad-argument', null],
  ['settings:save', 'a field too many', 'bad-argument', { ...SETTINGS, folder: '/' }],
  [
    'settings:save',
    'a key that is a path',
    'bad-argument',
    { ...SETTINGS, keys: { chest: '../../x', airway: 'KeyJ' } },
  ],
  [
    'settings:save',
    'a name of a megabyte',
    'bad-argument',
    { ...SETTINGS, people: { A: 'a'.repeat(1_000_000), B: '' } },
  ],
  ['drill:open', 'nothing', 'bad-argument', null],
  ['drill:open', 'a list', 'bad-argument', []],
  [
    'drill:open',
    'both roles to one person',
    'bad-argument',
    setupOf({ roles: { compressor: 'A', ventilator: 'A' } }),
  ],
  ['drill:open', 'a person binding on a manikin', 'bad-argument', setupOf({ binding: 'person' })],
  ['drill:open', 'a switch without a time source', 'bad-argument', setupOf({ sources: {} })],
  ['drill:open', 'more sources than a line holds', 'bad-argument', setupOf({ sources: manySources() })],
  ['drill:append', 'nothing', 'bad-argument', null],
  ['drill:append', 'no lines', 'bad-argument', batchOf({ lines: [] })],
  ['drill:append', 'sequence 0', 'bad-argument', batchOf({ sequence: 0 })],
  ['drill:append', 'a sequence that is text', 'bad-argument', batchOf({ sequence: '1' })],
  ['drill:append', 'a drill that is a path', 'bad-argument', batchOf({ drillId: '../../etc/passwd' })],
  ['drill:append', 'more lines than a batch has', 'bad-argument', batchOf({ lines: edges(5001) })],
  [
    'drill:append',
    'an open line',
    'bad-line',
    batchOf({ lines: [{ kind: 'open', version: 1, id: DRILL_ID, openedAt: OPENED_AT, ...setupOf() }] }),
  ],
  [
    'drill:append',
    'a recovered line',
    'bad-line',
    batchOf({ lines: [{ kind: 'recovered', at: 1, bytes: 1, text: '' }] }),
  ],
  ['drill:append', 'a line of no kind we know', 'bad-line', batchOf({ lines: [{ kind: 'sermon', at: 1 }] })],
  ['drill:append', 'a time below 0', 'bad-line', batchOf({ lines: [edgeAt(-1)] })],
  ['drill:append', 'a time that is no number', 'bad-line', batchOf({ lines: [{ ...edgeAt(1), at: null }] })],
  ['drill:append', 'a drill that is not here', 'no-such-drill', batchOf({})],
  ['drill:read', 'nothing', 'bad-argument', null],
  ['drill:read', 'a path', 'bad-argument', { drillId: '../settings.json' }],
  ['drill:read', 'a drill that is not here', 'no-such-drill', { drillId: DRILL_ID }],
  [
    'drill:append',
    'a signature',
    'bad-line',
    batchOf({ lines: [{ ...SIGNATURE, at: 1, signedAt: OPENED_AT }] }),
  ],
  ['drill:remark', 'nothing', 'bad-argument', null],
  ['drill:remark', 'a path', 'bad-argument', remarkedOf({ drillId: '../settings.json' })],
  ['drill:remark', 'no remark', 'bad-argument', remarkedOf({ remarks: [] })],
  ['drill:remark', 'a remark that is text', 'bad-argument', remarkedOf({ remarks: ['mark'] })],
  ['drill:remark', 'an edge', 'bad-line', remarkedOf({ remarks: [edgeAt(1)] })],
  ['drill:remark', 'a call', 'bad-line', remarkedOf({ remarks: [{ kind: 'call', call: 'finish' }] })],
  ['drill:remark', 'an open line', 'bad-line', remarkedOf({ remarks: [{ kind: 'open' }] })],
  ['drill:remark', 'a row that is no time', 'bad-line', remarkedOf({ remarks: [{ ...MARK, row: 'first' }] })],
  ['drill:remark', 'no name under it', 'bad-line', remarkedOf({ remarks: [{ ...SIGNATURE, by: ' ' }] })],
  ['drill:remark', 'a “pass”', 'bad-line', remarkedOf({ remarks: [{ ...SIGNATURE, decision: 'pass' }] })],
  [
    'drill:remark',
    'more remarks than a request has',
    'bad-argument',
    remarkedOf({ remarks: Array.from({ length: 2001 }, () => MARK) }),
  ],
  ['drill:remark', 'a drill that is not here', 'no-such-drill', remarkedOf({})],
  ['drill:list', 'an argument', 'bad-argument', { folder: '/' }],
  [
    'drill:open',
    'a plan that is none',
    'bad-argument',
    { ...setupOf(), plan: { ...newPlan('A plan'), legs: [] } },
  ],
  ['ledger:list', 'nothing', 'bad-argument', null],
  ['ledger:list', 'more than an answer holds', 'bad-argument', { filter: NO_FILTER, from: 0, count: 501 }],
  [
    'ledger:list',
    'a day that is none',
    'bad-argument',
    { filter: { ...NO_FILTER, from: 'today' }, from: 0, count: 1 },
  ],
  ['ledger:people', 'an argument', 'bad-argument', { name: 'Ada' }],
  ['ledger:person', 'nobody', 'bad-argument', { name: ' ' }],
  ['ledger:person', 'a name of a megabyte', 'bad-argument', { name: 'a'.repeat(1_000_000) }],
  ['ledger:file', 'a path', 'bad-argument', { drillId: '../settings', title: null, archived: true }],
  ['ledger:file', 'a drill that is not here', 'no-such-drill', ARGUMENTS['ledger:file']],
  [
    'ledger:file',
    'a title that is too long',
    'bad-argument',
    { drillId: DRILL_ID, title: 'x'.repeat(121), archived: false },
  ],
  ['ledger:rename-person', 'no new name', 'bad-argument', { from: 'Ada', to: '', drillId: null }],
  ['ledger:remove-person', 'who was removed', 'bad-argument', { name: 'Someone' }],
  ['ledger:remove-drill', 'nothing', 'bad-argument', null],
  ['ledger:remove-drill', 'a drill that is not here', 'no-such-drill', { drillId: DRILL_ID }],
  ['ledger:search', 'nothing', 'bad-argument', null],
  ['plan:list', 'an argument', 'bad-argument', { folder: '/' }],
  ['plan:save', 'nothing', 'bad-argument', null],
  ['plan:save', 'no plan', 'bad-argument', { fileName: null, plan: null }],
  [
    'plan:save',
    'a plan without legs',
    'bad-argument',
    { fileName: null, plan: { ...newPlan('A plan'), legs: [] } },
  ],
  [
    'plan:save',
    'a field too many',
    'bad-argument',
    { fileName: null, plan: { ...newPlan('A plan'), path: '/' } },
  ],
  [
    'plan:save',
    'a path',
    'bad-argument',
    { fileName: '../settings.json/x.antiphon-plan.json', plan: newPlan('A plan') },
  ],
  ['plan:remove', 'nothing', 'bad-argument', null],
  ['plan:remove', 'a path', 'bad-argument', { fileName: '../journals/x.antiphon-plan.json' }],
  ['plan:remove', 'a Windows path', 'bad-argument', { fileName: '..\\x.antiphon-plan.json' }],
  ['plan:remove', 'another file', 'bad-argument', { fileName: 'settings.json' }],
  ['plan:remove', 'a hidden file', 'bad-argument', { fileName: '.x.antiphon-plan.json' }],
  ['standard:list', 'an argument', 'bad-argument', { folder: '/' }],
  ['standard:save', 'nothing', 'bad-argument', null],
  [
    'standard:save',
    'a standard that asks for nothing',
    'bad-argument',
    { fileName: null, standard: { ...EXAMPLE_STANDARD, requires: {} } },
  ],
  [
    'standard:save',
    'a plan’s file',
    'bad-argument',
    { fileName: 'a-plan-1.antiphon-plan.json', standard: EXAMPLE_STANDARD },
  ],
  [
    'standard:save',
    'a path',
    'bad-argument',
    { fileName: '../x.antiphon-standard.json', standard: EXAMPLE_STANDARD },
  ],
  ['standard:remove', 'a path', 'bad-argument', { fileName: '../plans/x.antiphon-standard.json' }],
  ['standard:remove', 'another file', 'bad-argument', { fileName: 'class.json' }],
  ['class:load', 'an argument', 'bad-argument', 'class.json'],
  ['class:save', 'nothing', 'bad-argument', null],
  ['class:save', 'a field too many', 'bad-argument', { ...CLASS, path: '/' }],
  ['class:save', 'a name of a megabyte', 'bad-argument', newClass(['a'.repeat(500_000)], 1)],
  [
    'class:save',
    'somebody twice at once',
    'bad-argument',
    { ...CLASS, done: [{ groups: [{ station: 1, chest: 'Ada', airway: 'Ada', observer: null }] }] },
  ],
  ['drill:current', 'an argument', 'bad-argument', { drillId: DRILL_ID }],
  ['drill:attend', 'nothing', 'bad-argument', null],
  ['drill:attend', 'a role that is none', 'bad-argument', attendanceOf({ role: 'observer' })],
  [
    'drill:attend',
    'a 0 that is no number',
    'bad-argument',
    attendanceOf({ zero: { hostMs: null, errorMs: 1 } }),
  ],
  ['drill:attend', 'a drill that is not here', 'no-such-drill', attendanceOf({})],
  ['clock:ping', 'an argument', 'bad-argument', 5],
  ['paper:save', 'a path', 'bad-argument', { fileName: '../drill.pdf' }],
  ['paper:save', 'another kind of file', 'bad-argument', { fileName: 'drill.exe' }],
  ['paper:save', 'a shell whose browser prints', 'bad-argument', { fileName: 'drill.pdf' }],
  ['window:open', 'an address', 'bad-argument', { role: 'https://example.org/' }],
  ['window:open', 'a shell whose page opens its windows', 'bad-argument', { role: 'learners' }],
];

function manySources(): ReturnType<typeof setupOf>['sources'] {
  const names = ['chest', 'airway', ...Array.from({ length: 3000 }, (_, index) => `switch-${index}`)];
  return Object.fromEntries(names.map((name) => [name, { kind: 'keyboard', stepMs: 1 }]));
}

async function openDrill(bridge: CarriedStation['bridge']): Promise<string> {
  const opened = await bridge.openDrill(setupOf());
  if (!opened.ok) throw new Error(opened.message);
  return opened.value.drillId;
}

function makeSender(bridge: CarriedStation['bridge'], drillId: string): JournalSender {
  return new JournalSender({
    append: (batch) => bridge.appendLines(batch),
    drillId,
    windowId: WINDOW_ID,
    wait: () => Promise.resolve(),
    onTrouble: () => undefined,
  });
}

/** Collects what a window hears, and waits for the next of it. */
function makeEar(): {
  listener: (written: LinesWritten) => void;
  next: () => Promise<LinesWritten>;
  count: () => number;
} {
  const heard: LinesWritten[] = [];
  let taken = 0;
  let wake = (): void => undefined;
  const next = async (): Promise<LinesWritten> => {
    for (;;) {
      const written = heard[taken];
      if (written !== undefined) {
        taken += 1;
        return written;
      }
      await new Promise<void>((resolve) => {
        wake = resolve;
      });
    }
  };
  const listener = (written: LinesWritten) => {
    heard.push(written);
    wake();
  };
  return { listener, next, count: () => heard.length };
}
