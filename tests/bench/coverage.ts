import {
  BY_U_ALONE,
  COVERED,
  coverageByU,
  coverageOf,
  offsetDrill,
  pooledTruth,
  rehearsedDrill,
  type SimulatedDrill,
  seriesDrill,
  seriesTruth,
  type Truth,
} from '../support/coverage.ts';

/** How often ± holds the truth, over simulated drills. 95 is what it claims; each number is good to about ± 2. */
const DRILLS = 600;
/** Half a minute is under 20 cycles, where means alone have a ±. */
const MINUTES = [0.5, 1, 5] as const;

type Column = { title: string; make: (seed: number) => SimulatedDrill; truth?: Truth };

const series = (minutes: number): Column[] =>
  [0, 0.3, 0.5].map((correlation) => ({
    title: `r ${correlation}`,
    make: (seed) => seriesDrill(seed, 30 * minutes, correlation, 1),
    truth: seriesTruth(correlation),
  }));
const rehearsed = (minutes: number): Column[] => [
  { title: 'pair', make: (seed) => rehearsedDrill(seed, minutes, { planted: [] }) },
  { title: '8 ms', make: (seed) => rehearsedDrill(seed, minutes, { planted: [], stepMs: 8 }) },
  { title: 'faults', make: (seed) => rehearsedDrill(seed, minutes, {}) },
];

export function sayCoverage(): void {
  console.log(
    `\n± over ${DRILLS} simulated drills each: % in which it holds the truth (95 is claimed)\nr: series of 30 cycles a minute whose neighbours correlate so, switches of 1 ms; pair: rehearsed, no faults; 8 ms: on switches of 8 ms; faults: with the usual faults;\noffset: on a key and a late 8 ms pad, the offset found in a check and taken out (means that lie between the two)\n`,
  );
  for (const minutes of MINUTES) {
    const offset: Column = {
      title: 'offset',
      make: (seed) => offsetDrill(seed, minutes),
      truth: offsetTruth(minutes),
    };
    const columns = [...series(minutes), ...rehearsed(minutes), offset].map(({ title, make, truth }) => {
      const drills = Array.from({ length: DRILLS }, (_, seed) => make(seed));
      const known = truth ?? pooledTruth(drills);
      const byU = new Map(
        BY_U_ALONE.filter((name) => known[name] !== undefined).map((name) => [
          name,
          coverageByU(drills, known, name),
        ]),
      );
      return { title, found: coverageOf(drills, known), byU };
    });
    const line = (cells: readonly string[]) => cells.map((cell) => cell.padStart(9)).join('');
    console.log(`${`${minutes} min`.padEnd(28)}${line(columns.map(({ title }) => title))}`);
    for (const name of COVERED) {
      const cells = columns.map(({ found }) => {
        const coverage = found.get(name);
        return coverage === undefined || coverage.of < DRILLS / 2 ? '–' : (100 * coverage.share).toFixed(1);
      });
      if (cells.some((cell) => cell !== '–')) console.log(`${name.padEnd(28)}${line(cells)}`);
    }
    for (const name of BY_U_ALONE) {
      const cells = columns.map(({ byU }) => {
        const share = byU.get(name);
        return share === undefined ? '–' : (100 * share).toFixed(1);
      });
      console.log(`${`(${name}, U alone)`.padEnd(28)}${line(cells)}`);
    }
    console.log();
  }
}

/** What the pair does with perfect switches. */
function offsetTruth(minutes: number): Truth {
  const drills = Array.from({ length: DRILLS }, (_, seed) =>
    rehearsedDrill(seed, minutes, { planted: [], stepMs: 0 }),
  );
  const {
    'breathLagMs.mean': lag,
    'breathLagRatio.mean': ratio,
    'breathPhase.mean': phase,
  } = pooledTruth(drills);
  return {
    ...(lag === undefined ? {} : { 'breathLagMs.mean': lag }),
    ...(ratio === undefined ? {} : { 'breathLagRatio.mean': ratio }),
    ...(phase === undefined ? {} : { 'breathPhase.mean': phase }),
  };
}
