import { type ReactElement, useEffect, useState } from 'react';
import { type CountOrder, isGiven } from '../../machines/count/count-order.ts';
import { COUNT_WORDS } from '../../machines/words/english.ts';
import { LEARNER_WORDS } from '../../machines/words/screen-floor.ts';

type CountProps = { order: CountOrder; now: () => number };

/** The count word that is due now, asked of the clock at every frame and never counted. */
export function Count({ order, now }: CountProps): ReactElement {
  const [beat, setBeat] = useState(() => beatAt(now(), order));
  useEffect(() => {
    let frame = 0;
    const look = () => {
      setBeat(beatAt(now(), order));
      frame = requestAnimationFrame(look);
    };
    frame = requestAnimationFrame(look);
    return () => cancelAnimationFrame(frame);
  }, [order, now]);
  if (beat === 'over') return <p className="count" />;
  if (beat === 'to come') return <p className="count-ready">{LEARNER_WORDS.ready}</p>;
  const word = beat % COUNT_WORDS.length;
  return (
    // A new element for every beat: its pulse begins anew.
    <p key={beat} className={word === COUNT_WORDS.length - 1 ? 'count count-breath' : 'count'}>
      {COUNT_WORDS[word]}
    </p>
  );
}

/** Which beat a time is in: how many after the first "one". */
export function beatAt(nowMs: number, order: CountOrder): number | 'to come' | 'over' {
  if (!isGiven(order, nowMs)) return 'over';
  if (nowMs < order.fromMs) return 'to come';
  return Math.floor(((nowMs - order.fromMs) / order.cycleMs) * COUNT_WORDS.length);
}
