import type { ReactElement } from 'react';
import type { ChartSnapshot } from '../../machines/drill-driver.ts';
import type { NumberedLine } from '../../machines/journal-reader.ts';
import { STANCE_WORDS, TECHNIQUE_WORDS } from '../../machines/words/english.ts';
import { formatClock } from '../../machines/words/format.ts';
import { LEARNERS_ENGLISH } from '../../machines/words/learners-english.ts';
import {
  FLOOR_WORDS,
  guidanceSentence,
  STAGE_NOTES,
  STAGE_SENTENCES,
} from '../../machines/words/screen-floor.ts';
import { calledChanges, givenCountOf } from '../app/learners-view.ts';
import { Count } from './count.tsx';

type DrillStateProps = {
  chart: ChartSnapshot;
  people: { A: string; B: string };
  now: () => number;
  lines: readonly NumberedLine[];
  /** Where the whole sequence stands, in words. */
  notes: readonly string[];
};
/** The time moves on in steps: the screen is to be still. */
const TIME_STEP_MS = 10_000;

/** Where the drill stands and who does what, in words. */
export function DrillState({ chart, people, now, lines, notes }: DrillStateProps): ReactElement {
  const nowMs = now();
  const count = givenCountOf(chart, nowMs);
  const { arrangement, heartRateBpm } = chart.context;
  const called = calledChanges(chart, LEARNERS_ENGLISH);
  return (
    <div className="drill-state">
      <h2>
        {STAGE_SENTENCES[chart.value.stage]}
        <span className="quiet"> {timeSinceBegin(lines, nowMs)}</span>
      </h2>
      {STAGE_NOTES[chart.value.stage] === null ? null : <p>{STAGE_NOTES[chart.value.stage]}</p>}
      {notes.map((note) => (
        <p key={note}>{note}</p>
      ))}
      <dl>
        <dt>{FLOOR_WORDS.compresses}</dt>
        <dd className="who">{people[arrangement.roles.compressor]}</dd>
        <dt>{FLOOR_WORDS.ventilates}</dt>
        <dd className="who">{people[arrangement.roles.ventilator]}</dd>
        <dt>{FLOOR_WORDS.technique}</dt>
        <dd>{TECHNIQUE_WORDS[arrangement.technique]}</dd>
        <dt>{FLOOR_WORDS.stance}</dt>
        <dd>{STANCE_WORDS[arrangement.stance]}</dd>
        <dt>{FLOOR_WORDS.guidance}</dt>
        <dd>
          {guidanceSentence(chart.context, count !== null)}
          {count === null ? null : <Count order={count} now={now} words={LEARNERS_ENGLISH} />}
        </dd>
        <dt>{FLOOR_WORDS.heartRate}</dt>
        <dd>{heartRateBpm === null ? FLOOR_WORDS.notAnnounced : FLOOR_WORDS.announced(heartRateBpm)}</dd>
      </dl>
      {called.length === 0 ? null : <p className="called-note">{FLOOR_WORDS.called(called.join(', '))}</p>}
    </div>
  );
}

function timeSinceBegin(lines: readonly NumberedLine[], nowMs: number): string {
  const begin = lines.find(({ line }) => line.kind === 'call' && line.call === 'begin')?.line;
  if (begin === undefined || begin.kind !== 'call') return '';
  const finish = lines.findLast(({ line }) => line.kind === 'call' && line.call === 'finish')?.line;
  const untilMs = finish?.kind === 'call' ? finish.at : nowMs;
  const ms = untilMs - begin.at;
  return ms < TIME_STEP_MS ? '' : formatClock(ms - (ms % TIME_STEP_MS));
}
