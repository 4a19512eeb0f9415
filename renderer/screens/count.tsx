import { type ReactElement, useEffect, useState } from 'react';
import { COUNT_WORDS } from '../../machines/words/english.ts';
import { LEARNER_WORDS } from '../../machines/words/screen-floor.ts';

type CountProps = { fromMs: number; cycleMs: number; now: () => number };

/** The count word that is due now, asked of the clock at every frame and never counted. */
export function Count({ fromMs, cycleMs, now }: CountProps): ReactElement {
  const [beat, setBeat] = useState(() => beatAt(now(), fromMs, cycleMs));
  useEffect(() => {
    let frame = 0;
    const look = () => {
      setBeat(beatAt(now(), fromMs, cycleMs));
      frame = requestAnimationFrame(look);
    };
    frame = requestAnimationFrame(look);
    return () => cancelAnimationFrame(frame);
  }, [fromMs, cycleMs, now]);
  if (beat === null) return <p className="count-ready">{LEARNER_WORDS.ready}</p>;
  return (
    <p className={beat === COUNT_WORDS.length - 1 ? 'count count-breath' : 'count'}>{COUNT_WORDS[beat]}</p>
  );
}

/** Which beat of the cycle a time is in; null before the first "one". */
export function beatAt(nowMs: number, fromMs: number, cycleMs: number): number | null {
  if (nowMs < fromMs) return null;
  return Math.floor((((nowMs - fromMs) % cycleMs) / cycleMs) * COUNT_WORDS.length);
}
