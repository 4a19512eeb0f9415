import { type ReactElement, useCallback, useEffect, useState } from 'react';
import { soonWords } from '../../machines/words/plan-words.ts';
import { FLOOR_WORDS, saidWords } from '../../machines/words/screen-floor.ts';
import { PROBLEM_WORDS } from '../../machines/words/screens.ts';
import { listenForInstructor } from '../adapters/floor-keys.ts';
import type { InstructorKey } from '../adapters/key-uses.ts';
import type { DrillSession } from '../app/drill-session.ts';
import { instructorActions } from '../app/instructor-actions.ts';
import { learnersViewOf, withHolding } from '../app/learners-view.ts';
import type { StationSound } from '../app/station-sound.ts';
import { InstructorFloor } from './instructor-floor.tsx';
import { LearnersFloor } from './learners-floor.tsx';
import { useSession } from './use-session.ts';

type FloorProps = {
  session: DrillSession;
  sound: StationSound;
  nameOfKey: (code: string) => string;
  onClosed: (drillId: string) => void;
  /** The drill was left before it was finished, or can no longer be closed. */
  onLeft: (problem: string | null) => void;
};

/** One drill, two views of it, one key between them. The same keys work in both. */
export function Floor({ session, sound, nameOfKey, onClosed, onLeft }: FloorProps): ReactElement {
  useSession(session);
  const [view, setView] = useState<'instructor' | 'learners'>('instructor');
  const [isClosing, setClosing] = useState(false);
  const chart = session.driver.snapshot;
  const { people } = session.opened.open;
  const { drillId } = session.opened;
  const changeView = useCallback(
    () => setView((shown) => (shown === 'learners' ? 'instructor' : 'learners')),
    [],
  );
  const press = useCallback(
    (key: InstructorKey, timeStampMs: number) => {
      if (key === '0') return changeView();
      const actions = instructorActions(session.driver.snapshot, session.opened.open.people);
      const action = actions.find((one) => one.key === key);
      if (action !== undefined) session.call(action.request, timeStampMs);
    },
    [session, changeView],
  );
  const close = useCallback(
    async (timeStampMs: number, isFinished: boolean) => {
      setClosing(true);
      const result = await session.close(timeStampMs);
      if (!result.ok) return onLeft(PROBLEM_WORDS.troubleEnded(result.message));
      if (isFinished) onClosed(drillId);
      else onLeft(null);
    },
    [session, drillId, onClosed, onLeft],
  );
  const isFinished = chart.matches({ stage: 'finished' });
  useEffect(
    () =>
      listenForInstructor(window, {
        onKey: press,
        onEnter: (timeStampMs) => {
          if (isFinished && !isClosing) void close(timeStampMs, true);
          else if (!isFinished) session.callNextLeg(timeStampMs);
        },
      }),
    [session, press, close, isFinished, isClosing],
  );
  const { lastSaid } = session.status;
  const seen = learnersViewOf(chart, people, session.clock.now());
  const soon = isFinished ? '' : soonWords(session.plan?.viewAt(session.clock.now()).soon ?? []);
  const closeFinished = (timeStampMs: number) => void close(timeStampMs, true);
  return (
    <div className={`floor floor-${view}`}>
      <p className="unseen" role="status">
        {soon !== '' || lastSaid === null ? soon : saidWords(lastSaid)}
      </p>
      {view === 'learners' ? (
        <LearnersFloor
          view={session.isBegunByHolding ? withHolding(seen, chart, session.status.isLetGoAwaited) : seen}
          planWords={
            chart.matches({ stage: 'notBegun' }) ? (session.opened.open.plan?.words.learners ?? '') : ''
          }
          soon={soon}
          now={session.clock.now}
          isFinished={isFinished}
          isClosing={isClosing}
          trouble={session.status.trouble === null ? null : FLOOR_WORDS.notSaved}
          onView={changeView}
          onClose={closeFinished}
        />
      ) : (
        <InstructorFloor
          session={session}
          sound={sound}
          isClosing={isClosing}
          nameOfKey={nameOfKey}
          onPress={press}
          onView={changeView}
          onClose={closeFinished}
          onLeave={(timeStampMs) => void close(timeStampMs, false)}
        />
      )}
    </div>
  );
}
