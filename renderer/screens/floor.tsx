import { type ReactElement, useCallback, useEffect, useState } from 'react';
import type { WindowRole } from '../../electron/contract.ts';
import { FLOOR_WORDS, saidWords } from '../../machines/words/screen-floor.ts';
import { PROBLEM_WORDS } from '../../machines/words/screens.ts';
import { listenForInstructor } from '../adapters/floor-keys.ts';
import type { InstructorKey } from '../adapters/key-uses.ts';
import type { DrillSession } from '../app/drill-session.ts';
import { instructorActions } from '../app/instructor-actions.ts';
import { learnersViewOf, withHolding } from '../app/learners-view.ts';
import type { StationSound } from '../app/station-sound.ts';
import { OtherWindowButton } from '../components/other-window-button.tsx';
import { InstructorFloor } from './instructor-floor.tsx';
import { LearnersFloor } from './learners-floor.tsx';
import { useSession } from './use-session.ts';

type FloorProps = {
  session: DrillSession;
  sound: StationSound;
  /** Which view it begins with. */
  openedFor?: WindowRole;
  nameOfKey: (code: string) => string;
  /** Opens the other window; left out where there is none. */
  onOtherWindow?: () => void;
  onClosed: (drillId: string) => void;
  /** The drill was left before it was finished, or can no longer be closed. */
  onLeft: (problem: string | null) => void;
};

/** One drill, two views of it, one key between them. The same keys work in both. */
export function Floor(props: FloorProps): ReactElement {
  const { session, sound, openedFor = 'instructor', nameOfKey, onClosed, onLeft } = props;
  useSession(session);
  const [view, setView] = useState<WindowRole>(openedFor);
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
      // The other window closed it in the same moment: its line is on the way here.
      if (!result.ok && result.code === 'bad-line' && !session.isAlone) return setClosing(false);
      if (!result.ok) return onLeft(PROBLEM_WORDS.troubleEnded(result.message));
      if (isFinished) onClosed(drillId);
      else onLeft(null);
    },
    [session, drillId, onClosed, onLeft],
  );
  const isFinished = chart.matches({ stage: 'finished' });
  const { isClosedElsewhere } = session;
  useEffect(() => {
    if (!isClosedElsewhere) return;
    if (isFinished) onClosed(drillId);
    else onLeft(null);
  }, [isClosedElsewhere, isFinished, drillId, onClosed, onLeft]);
  useEffect(
    () =>
      listenForInstructor(window, {
        onKey: press,
        onEnter: (timeStampMs) => {
          if (isFinished && !isClosing) void close(timeStampMs, true);
        },
      }),
    [press, close, isFinished, isClosing],
  );
  const { lastSaid } = session.status;
  const seen = learnersViewOf(chart, people, session.clock.now());
  // With both windows there, neither offers a third.
  const onOtherWindow = session.isAlone ? props.onOtherWindow : undefined;
  const other = onOtherWindow && <OtherWindowButton from={openedFor} onOpen={onOtherWindow} />;
  const closeFinished = (timeStampMs: number) => void close(timeStampMs, true);
  return (
    <div className={`floor floor-${view}`}>
      <p className="unseen" role="status">
        {lastSaid === null ? '' : saidWords(lastSaid)}
      </p>
      {view === 'learners' ? (
        <LearnersFloor
          view={session.isBegunByHolding ? withHolding(seen, chart, session.status.isLetGoAwaited) : seen}
          now={session.clock.now}
          isFinished={isFinished}
          isClosing={isClosing}
          trouble={session.status.trouble === null ? null : FLOOR_WORDS.notSaved}
          onView={changeView}
          onClose={closeFinished}
          other={other}
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
          other={other}
        />
      )}
    </div>
  );
}
