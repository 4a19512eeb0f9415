import { type ReactElement, useCallback, useEffect, useState } from 'react';
import type { WindowRole } from '../../electron/contract.ts';
import { openRateEntry, type RateEntry, wayNow } from '../../machines/heart-rate.ts';
import type { InstructorKey } from '../../machines/instructor-keys.ts';
import { LEARNERS_WORDS } from '../../machines/words/languages.ts';
import { soonWords } from '../../machines/words/plan-words.ts';
import { FLOOR_WORDS, saidWords } from '../../machines/words/screen-floor.ts';
import { PROBLEM_WORDS } from '../../machines/words/screens.ts';
import { listenForInstructor } from '../adapters/floor-keys.ts';
import { instructorKeyName, type TickKey } from '../adapters/key-uses.ts';
import type { DrillSession } from '../app/drill-session.ts';
import { entryAfter, rateWaysNow } from '../app/heart-rate-entry.ts';
import { instructorActions } from '../app/instructor-actions.ts';
import { learnersViewOf, withHolding } from '../app/learners-view.ts';
import type { StationSound } from '../app/station-sound.ts';
import { FIRST_TICK_VIEW, ticksShown, tickViewAfter } from '../app/tick-keys.ts';
import { OtherWindowButton } from '../components/other-window-button.tsx';
import { HeartRatePanel } from './heart-rate-panel.tsx';
import { WithHelp } from './help.tsx';
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
  const [wantedEntry, setEntry] = useState<RateEntry | null>(null);
  const [tickView, setTickView] = useState(FIRST_TICK_VIEW);
  const chart = session.driver.snapshot;
  const isFinished = chart.matches({ stage: 'finished' });
  const entry = isFinished ? null : wantedEntry;
  const { people } = session.opened.open;
  const { drillId } = session.opened;
  const changeView = useCallback(
    () => setView((shown) => (shown === 'learners' ? 'instructor' : 'learners')),
    [],
  );
  const waysNow = useCallback(
    () => rateWaysNow(session.driver.snapshot, session.clock.now(), sound.isWanted),
    [session, sound],
  );
  const giveRate = useCallback(
    (timeStampMs: number) => {
      if (entry === null) return;
      const given = wayNow(entry, waysNow());
      const isCalled = session.call({ call: 'heart-rate', bpm: entry.bpm, given }, timeStampMs);
      if (isCalled && given === 'taps') sound.tapHeart(entry.bpm);
      if (isCalled) setEntry(null);
    },
    [session, sound, entry, waysNow],
  );
  const press = useCallback(
    (key: InstructorKey, timeStampMs: number) => {
      if (entry !== null) return setEntry(entryAfter(entry, key, waysNow()));
      if (key === '*') return openEntry(session, setEntry);
      if (key === '0') return changeView();
      const actions = instructorActions(session.driver.snapshot, session.opened.open.people);
      const action = actions.find((one) => one.key === key);
      if (action !== undefined) session.call(action.request, timeStampMs);
    },
    [session, changeView, entry, waysNow],
  );
  const tick = useCallback(
    (key: TickKey, timeStampMs: number) => {
      const changed = tickViewAfter(tickView, key);
      if (changed !== null) return setTickView(changed);
      const choice = ticksShown(session, tickView)?.choices.find((one) => one.key === key);
      if (choice !== undefined) session.tickItem(choice.item, choice.next, tickView.by, timeStampMs);
    },
    [session, tickView],
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
  const { isClosedElsewhere } = session;
  useEffect(() => {
    if (!isClosedElsewhere) return;
    if (isFinished) onClosed(drillId);
    else onLeft(null);
  }, [isClosedElsewhere, isFinished, drillId, onClosed, onLeft]);
  useEffect(
    () =>
      listenForInstructor(window, session.instructorKeys, {
        onKey: press,
        onTick: tick,
        isEntering: entry !== null,
        onEscape: () => setEntry(null),
        onEnter: (timeStampMs) => {
          if (entry !== null) giveRate(timeStampMs);
          else if (isFinished && !isClosing) void close(timeStampMs, true);
          else if (!isFinished) session.callNextLeg(timeStampMs);
        },
      }),
    [session, press, tick, close, giveRate, entry, isFinished, isClosing],
  );
  const isTapping = waysNow().includes('taps');
  useEffect(() => {
    if (!isTapping) sound.stopTaps();
  }, [sound, isTapping]);
  const { lastSaid } = session.status;
  const words = LEARNERS_WORDS[session.language];
  const seen = learnersViewOf(chart, people, session.clock.now(), words);
  const soon = isFinished ? '' : soonWords(session.plan?.viewAt(session.clock.now()).soon ?? [], words);
  // With both windows there, neither offers a third.
  const onOtherWindow = session.isAlone ? props.onOtherWindow : undefined;
  const other = onOtherWindow && <OtherWindowButton from={openedFor} onOpen={onOtherWindow} />;
  const closeFinished = (timeStampMs: number) => void close(timeStampMs, true);
  return (
    <div className={`floor floor-${view}`}>
      <p className="unseen" role="status" lang={words.code}>
        {soon !== '' || lastSaid === null ? soon : saidWords(lastSaid, people, words)}
      </p>
      {view === 'learners' ? (
        <LearnersFloor
          view={
            session.isBegunByHolding ? withHolding(seen, chart, session.status.isLetGoAwaited, words) : seen
          }
          words={words}
          planWords={
            chart.matches({ stage: 'notBegun' }) ? (session.opened.open.plan?.words.learners ?? '') : ''
          }
          soon={soon}
          now={session.clock.now}
          isFinished={isFinished}
          isEntering={entry !== null}
          viewKey={instructorKeyName('0', nameOfKey, session.instructorKeys)}
          isClosing={isClosing}
          trouble={session.status.trouble === null ? null : FLOOR_WORDS.notSaved}
          onView={changeView}
          onClose={closeFinished}
          other={other}
        />
      ) : (
        <WithHelp page="floor" isBeside>
          <InstructorFloor
            session={session}
            sound={sound}
            isClosing={isClosing}
            nameOfKey={nameOfKey}
            onPress={press}
            rateEntry={
              entry === null ? null : (
                <HeartRatePanel
                  entry={entry}
                  ways={waysNow()}
                  isChecking={chart.matches({ stage: 'checking' })}
                  nameOfKey={nameOfKey}
                  onKey={(key) => press(key, 0)}
                  onGive={giveRate}
                  onLeave={() => setEntry(null)}
                />
              )
            }
            tickView={tickView}
            onTick={tick}
            onView={changeView}
            onClose={closeFinished}
            onLeave={(timeStampMs) => void close(timeStampMs, false)}
            other={other}
          />
        </WithHelp>
      )}
    </div>
  );
}

/** Before a drill has begun, and after its end, nobody asks. */
function openEntry({ driver }: DrillSession, open: (entry: RateEntry) => void): void {
  const { value, context } = driver.snapshot;
  if (value.stage !== 'notBegun' && value.stage !== 'finished') open(openRateEntry(context.heartRateBpm));
}
