import { type ReactElement, useEffect, useState } from 'react';
import { type CountOrder, isGiven } from '../../machines/count/count-order.ts';
import { COUNT_WORDS } from '../../machines/words/english.ts';
import type { LearnersWords } from '../../machines/words/languages.ts';

type CountProps = { order: CountOrder; now: () => number; words: LearnersWords };

/** A look a little after the beat, so that it is not a hair too early; and, while nothing is to come, now and then. */
const AFTER_BEAT_MS = 1;
const IDLE_LOOK_MS = 250;

/** The count word that is due now, asked of the clock at every beat and never counted. */
export function Count({ order, now, words }: CountProps): ReactElement {
  const [beat, setBeat] = useState(() => beatAt(now(), order));
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout>;
    const look = () => {
      setBeat(beatAt(now(), order));
      timer = setTimeout(look, waitForBeat(now(), order));
    };
    look();
    return () => clearTimeout(timer);
  }, [order, now]);
  if (beat === 'over') return <p className="count" />;
  if (beat === 'to come') return <p className="count-ready">{words.ready}</p>;
  const word = beat % COUNT_WORDS.length;
  return (
    // A new element for every beat: its pulse begins anew.
    <p key={beat} className={word === COUNT_WORDS.length - 1 ? 'count count-breath' : 'count'}>
      {words.count[word]}
    </p>
  );
}

/** Which beat a time is in: how many after the first "one". */
export function beatAt(nowMs: number, order: CountOrder): number | 'to come' | 'over' {
  if (!isGiven(order, nowMs)) return 'over';
  if (nowMs < order.fromMs) return order.before === undefined ? 'to come' : beatAt(nowMs, order.before);
  return Math.floor(((nowMs - order.fromMs) / order.cycleMs) * COUNT_WORDS.length);
}

/** Ms until the next beat of an order. */
function waitForBeat(nowMs: number, order: CountOrder): number {
  const beat = beatAt(nowMs, order);
  if (beat === 'over') return IDLE_LOOK_MS;
  if (nowMs < order.fromMs && order.before !== undefined) {
    return Math.min(waitForBeat(nowMs, order.before), order.fromMs - nowMs + AFTER_BEAT_MS);
  }
  const next = beat === 'to come' ? 0 : beat + 1;
  return order.fromMs + (next * order.cycleMs) / COUNT_WORDS.length - nowMs + AFTER_BEAT_MS;
}
