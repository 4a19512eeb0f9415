import { describe, expect, it } from 'vitest';
import { beatsBetween, type CountAnchor } from '../../../machines/count/beats.ts';
import type { CountNews } from '../../../renderer/sound/count-news.ts';
import { type CountPlayer, makeCountPlayer } from '../../../renderer/sound/count-player.ts';
import type { SoundCatalogue } from '../../../renderer/sound/sound-catalogue.ts';
import { FakeAudio } from '../../support/fake-audio.ts';

const CYCLE_MS = 2000;
const OPENED_MS = 5000;
const ONSET = 48;
/** The fake's files are named by their length in seconds. */
const catalogue: SoundCatalogue = {
  ticks: [1, 2].map((pitch) => ({
    pitch,
    hertz: 440,
    tick: { url: `0.${pitch}`, onset: ONSET, samples: pitch * 4800 },
    breath: { url: `0.${pitch}5`, onset: 0, samples: pitch * 4800 + 2400 },
  })),
  heartTap: { url: '0.3', onset: 0, samples: 14_400 },
  counts: [],
  calls: [
    {
      language: 'en',
      words: [
        { text: 'swap', url: '0.4', onset: ONSET, samples: 19_200 },
        { text: 'soon', url: '0.5', onset: ONSET, samples: 24_000 },
      ],
    },
  ],
};

class Station {
  readonly audio: FakeAudio;
  readonly news: CountNews[] = [];
  readonly player: CountPlayer;
  private wake = (): void => undefined;

  constructor(ppm: number) {
    this.audio = new FakeAudio(ppm);
    this.player = makeCountPlayer({
      howler: this.audio.howler(),
      catalogue,
      pageNow: () => this.audio.pageMs,
      openedMs: () => OPENED_MS,
      onNews: (one) => this.news.push(one),
      wakeEvery: (_ms, wake) => {
        this.wake = wake;
        return () => {
          this.wake = () => undefined;
        };
      },
      gestures: new EventTarget(),
    });
  }

  /** Time goes on, with a wake every so often. */
  pass(ms: number, everyMs = 200): void {
    const endMs = this.audio.pageMs + ms;
    while (this.audio.pageMs < endMs) {
      this.audio.pageMs = Math.min(endMs, this.audio.pageMs + everyMs);
      this.wake();
    }
  }

  get anchors(): CountAnchor[] {
    return this.news.flatMap((one) =>
      one.type === 'started' || one.type === 're-anchored' ? [one.anchor] : [],
    );
  }

  /** Drill ms at which each beat was heard, in truth. */
  heardMs(): number[] {
    return this.audio.sources
      .filter(({ isTakenBack }) => !isTakenBack)
      .map(({ atS }, beat) => this.audio.heardMs(atS + (beat % 4 === 3 ? 0 : ONSET / 48_000)) - OPENED_MS);
  }
}

async function openStation(ppm = 0): Promise<Station> {
  const station = new Station(ppm);
  station.audio.pageMs = 100;
  await station.player.load();
  station.pass(OPENED_MS + 3000);
  return station;
}

describe.each([-200, 0, 35, 200])('with a device that drifts by %i ppm', (ppm) => {
  it('every beat of ten minutes was heard within 1 ms of where the news put it', async () => {
    const station = await openStation(ppm);
    station.player.start({ fromMs: 3700, cycleMs: CYCLE_MS, sound: { kind: 'tick', pitch: 1 } });
    station.pass(600_000);
    station.player.stop({ afterMs: station.audio.pageMs - OPENED_MS });
    const heard = station.heardMs();
    expect(heard.length).toBeGreaterThan(1190);
    const said = heard.map((ms) => {
      const anchor = station.anchors.findLast(({ atMs }) => atMs <= ms + 10);
      if (anchor === undefined) throw new Error(`no anchor before ${ms}`);
      const [nearest] = beatsBetween({ ...anchor, cycleMs: anchor.cycleMs / 4 }, ms - 100, ms + 200);
      return (nearest?.atMs ?? Number.NaN) - ms;
    });
    expect(Math.max(...said.map(Math.abs))).toBeLessThan(1);
    // The grid is the audio clock's, so the cycle on the drill's clock is longer or shorter by the drift.
    expect(station.anchors.at(-1)?.cycleMs).toBeCloseTo(CYCLE_MS * (1 + ppm / 1e6), 3);
    expect(station.anchors.length).toBeGreaterThanOrEqual(20);
    expect(station.anchors.length).toBeLessThan(60);
  });
});

it('a count whose "one" is past joins that rhythm at its next "one"', async () => {
  const station = await openStation();
  station.player.start({ fromMs: 1111, cycleMs: CYCLE_MS, sound: { kind: 'tick', pitch: 1 } });
  expect(station.anchors.map(({ atMs }) => Number(atMs.toFixed(1)))).toEqual([5111]);
});

it('wakes that come a second late move and drop nothing', async () => {
  const station = await openStation();
  station.player.start({ fromMs: 4000, cycleMs: CYCLE_MS, sound: { kind: 'tick', pitch: 1 } });
  station.pass(20_000, 1400);
  const gaps = station.heardMs().map((ms, index, all) => ms - (all[index - 1] ?? ms - 500));
  expect(gaps.length).toBeGreaterThan(38);
  expect(Math.max(...gaps.map((gap) => Math.abs(gap - 500)))).toBeLessThan(0.1);
  expect(station.news.filter(({ type }) => type === 'trouble')).toEqual([]);
});

it('a page busy for longer than the cues reach leaves beats out, says so, and comes in at a "one"', async () => {
  const station = await openStation();
  station.player.start({ fromMs: 4000, cycleMs: CYCLE_MS, sound: { kind: 'tick', pitch: 1 } });
  station.pass(4000);
  const before = station.heardMs().length;
  station.pass(5000, 5000);
  station.pass(400);
  const heard = station.heardMs();
  const back = heard[before] ?? Number.NaN;
  expect((back - 4000 + 0.05) % CYCLE_MS).toBeLessThan(0.1);
  station.pass(10_000);
  const told = station.news.slice(1).filter(({ type }) => type !== 're-anchored');
  // The journal is to have no beat that was left out.
  expect(told).toMatchObject([
    { type: 'stopped' },
    { type: 'started' },
    { type: 'trouble', code: 'page-late' },
    { type: 'trouble over', code: 'page-late' },
  ]);
  const [stopped, started] = told;
  expect(stopped?.type === 'stopped' && stopped.lastBeatMs).toBeCloseTo(heard[before - 1] ?? 0, 0);
  expect(started?.type === 'started' && started.anchor.atMs).toBeCloseTo(back, 0);
});

it('a device that stands is said to be lost, and the count goes on in its rhythm once it is back', async () => {
  const station = await openStation();
  station.player.start({ fromMs: 4000, cycleMs: CYCLE_MS, sound: { kind: 'tick', pitch: 2 } });
  station.pass(4300);
  station.audio.stand();
  station.pass(3000);
  station.audio.goOn();
  station.pass(6000);
  const told = station.news.filter(({ type }) => type !== 're-anchored');
  expect(told.map((one) => ('code' in one ? `${one.type} ${one.code}` : one.type))).toEqual([
    'started',
    'trouble device-lost',
    'stopped',
    'trouble over device-lost',
    'started',
  ]);
  const [stopped] = told.filter((one) => one.type === 'stopped');
  expect(stopped?.lastBeatMs).toBeCloseTo(7000, 0);
  const [, again] = told.filter((one) => one.type === 'started');
  const off = ((again?.anchor.atMs ?? Number.NaN) - 4000) % CYCLE_MS;
  expect(Math.min(off, CYCLE_MS - off)).toBeLessThan(0.5);
  expect(station.audio.contexts).toBe(1);
});

it('a device that stands for longer gets a new context, now and again, until one goes', async () => {
  const station = await openStation();
  station.player.start({ fromMs: 4000, cycleMs: CYCLE_MS, sound: { kind: 'tick', pitch: 2 } });
  station.pass(4300);
  station.audio.stand();
  station.pass(6000);
  expect(station.audio.contexts).toBe(2);
  station.audio.goOn();
  // The sounds are decoded anew.
  await new Promise((resolve) => setImmediate(resolve));
  station.pass(6000);
  expect(station.news.at(-1)?.type).toBe('started');
  expect(station.news.filter(({ type }) => type === 'trouble' || type === 'trouble over')).toEqual([
    { type: 'trouble', code: 'device-lost' },
    { type: 'trouble over', code: 'device-lost' },
  ]);
});

it.each([
  { ms: 20, what: 'goes on and is said anew', types: ['started', 're-anchored'] },
  { ms: 300, what: 'begins again at a "one"', types: ['started', 'stopped', 'started'] },
])('after a jump of $ms ms of the device’s clock the count $what', async ({ ms, types }) => {
  const station = await openStation();
  station.player.start({ fromMs: 4000, cycleMs: CYCLE_MS, sound: { kind: 'tick', pitch: 1 } });
  station.pass(9000);
  station.audio.jump(ms);
  station.pass(6000);
  expect(station.news.map(({ type }) => type)).toEqual(types);
});

it('a stop takes back what has not begun, and cuts nothing', async () => {
  const station = await openStation();
  station.player.start({ fromMs: 4000, cycleMs: CYCLE_MS, sound: { kind: 'tick', pitch: 1 } });
  station.pass(1500);
  const nowMs = station.audio.pageMs - OPENED_MS;
  station.player.stop({ afterMs: nowMs });
  station.pass(4000);
  const heard = station.heardMs();
  const lastMs = heard.at(-1) ?? Number.NaN;
  expect(station.news.at(-1)).toEqual({ type: 'stopped', lastBeatMs: expect.closeTo(lastMs, 1) });
  expect(lastMs).toBeLessThan(nowMs + 100);
  expect(station.audio.sources.some(({ isTakenBack }) => isTakenBack)).toBe(true);
});

it('a count in place of another is alone from half a beat before its own "one"', async () => {
  const station = await openStation();
  station.player.start({ fromMs: 4000, cycleMs: CYCLE_MS, sound: { kind: 'tick', pitch: 1 } });
  station.pass(2500);
  // The old count's "one" of 8000 would come 100 ms before the new one's.
  station.player.start({ fromMs: 8100, cycleMs: CYCLE_MS, sound: { kind: 'tick', pitch: 2 } });
  station.pass(4000);
  const heard = station.heardMs().map((ms) => Math.round(ms));
  expect(heard.slice(0, 9)).toEqual([4000, 4500, 5000, 5500, 6000, 6500, 7000, 7500, 8100]);
});

it('a browser without audio says so, and orders change nothing', async () => {
  const station = new Station(0);
  const howler = station.audio.howler();
  howler.Howler.usingWebAudio = false;
  const news: CountNews[] = [];
  const player = makeCountPlayer({
    howler,
    catalogue,
    pageNow: () => 0,
    openedMs: () => 0,
    onNews: (one) => news.push(one),
    wakeEvery: () => () => undefined,
    gestures: new EventTarget(),
  });
  await player.load();
  player.start({ fromMs: 0, cycleMs: CYCLE_MS, sound: { kind: 'tick', pitch: 1 } });
  player.stop({ afterMs: 0 });
  player.tapHeart({ bpm: 60, taps: 3 })();
  player.speak({ language: 'en', texts: ['swap'] })();
  player.close();
  expect(news).toEqual([{ type: 'trouble', code: 'no-web-audio' }]);
});

it('a count that cannot be played ends the one before it, where it was to begin', async () => {
  const station = await openStation();
  station.player.start({ fromMs: 4000, cycleMs: CYCLE_MS, sound: { kind: 'tick', pitch: 1 } });
  station.pass(6000);
  const nowMs = station.heardMs().at(-1) ?? 0;
  const fromMs = Math.ceil((nowMs + 1000 - 4000) / CYCLE_MS) * CYCLE_MS + 4000;
  station.player.start({ fromMs, cycleMs: 3000, sound: { kind: 'voice', language: 'none' } });
  station.pass(6000);
  expect(station.heardMs().at(-1)).toBeCloseTo(fromMs - CYCLE_MS / 4, 0);
  expect(station.news.filter(({ type }) => type === 'stopped')).toHaveLength(1);
});

it('words are said one after the other from now, and the count under them stays on its beats', async () => {
  const station = await openStation();
  station.player.start({ fromMs: 4000, cycleMs: CYCLE_MS, sound: { kind: 'tick', pitch: 1 } });
  station.pass(6000);
  const before = station.audio.sources.length;
  const nowS = station.audio.audioS;
  station.player.speak({ language: 'en', texts: ['swap', 'soon'] });
  const words = station.audio.sources.slice(before).map(({ atS }) => Math.round((atS - nowS) * 1000));
  expect(words).toEqual([30, 490]);
  station.audio.sources.splice(before, 2);
  station.pass(4000);
  const beats = station.heardMs().map((ms) => Math.round(ms));
  expect(beats.every((ms, beat) => ms === 4000 + beat * 500)).toBe(true);
  expect(beats.length).toBeGreaterThan(12);
  // A count that is spoken itself is heard through this: 12 dB softer until the words are over.
  expect(station.audio.levels.map(({ level, atS }) => [level.toFixed(2), (atS - nowS).toFixed(2)])).toEqual([
    ['0.25', '0.00'],
    ['1.00', '1.05'],
  ]);
});

it('words that have not begun can be taken back; one that is not there silences them all', async () => {
  const station = await openStation();
  const takeBack = station.player.speak({ language: 'en', texts: ['swap', 'soon'] });
  station.pass(200);
  takeBack();
  expect(station.audio.sources.map(({ isTakenBack }) => isTakenBack)).toEqual([false, true]);
  station.player.speak({ language: 'en', texts: ['swap', 'nothing of the kind'] });
  station.player.speak({ language: 'none', texts: ['swap'] });
  station.player.speak({ language: 'en', texts: [] });
  expect(station.audio.sources).toHaveLength(2);
});

it('a stop that is told to come sooner does', async () => {
  const station = await openStation();
  station.player.start({ fromMs: 4000, cycleMs: CYCLE_MS, sound: { kind: 'tick', pitch: 1 } });
  station.pass(4600);
  const nowMs = station.heardMs().at(-1) ?? 0;
  station.player.stop({ afterMs: nowMs + 3250 });
  station.player.stop({ afterMs: nowMs + 750 });
  station.pass(6000);
  expect((station.heardMs().at(-1) ?? 0) - nowMs).toBeLessThan(1100);
});
