import { type ReactElement, type ReactNode, useMemo } from 'react';
import type { InstructorKey } from '../../machines/instructor-keys.ts';
import { FLOOR_WORDS } from '../../machines/words/screen-floor.ts';
import { sequenceNotes } from '../../machines/words/sequence-notes.ts';
import { instructorKeyName, type TickKey } from '../adapters/key-uses.ts';
import type { DrillSession } from '../app/drill-session.ts';
import { instructorActions } from '../app/instructor-actions.ts';
import type { StationSound } from '../app/station-sound.ts';
import { type TickView, ticksShown } from '../app/tick-keys.ts';
import { Cautions } from '../components/cautions.tsx';
import { KeyButton } from '../components/key-button.tsx';
import { LIVE_ROWS, liveSheetOf } from '../sheet/live-sheet.ts';
import { ScrollingSheet } from '../sheet/scrolling-sheet.tsx';
import { DrillState } from './drill-state.tsx';
import { LastHandover } from './last-handover.tsx';
import { FinishedPanel, LeaveDrill } from './leave-drill.tsx';
import { Notices } from './notices.tsx';
import { PlanStanding } from './plan-standing.tsx';
import { SoundTroubles } from './sound-troubles.tsx';
import { TicksPanel } from './ticks-panel.tsx';
import { useIsNarrow } from './use-is-narrow.ts';

type InstructorFloorProps = {
  session: DrillSession;
  sound: StationSound;
  isClosing: boolean;
  nameOfKey: (code: string) => string;
  onPress: (key: InstructorKey, timeStampMs: number) => void;
  /** The heart rate's entry in place of the keys, while it is open. */
  rateEntry: ReactElement | null;
  tickView: TickView;
  onTick: (key: TickKey, timeStampMs: number) => void;
  onView: () => void;
  onClose: (timeStampMs: number) => void;
  onLeave: (timeStampMs: number) => void;
  /** Opens the other window, where that can be done. */
  other: ReactNode;
};

/** The sheet as it grows, who does what, and every key with what it does now. */
export function InstructorFloor(props: InstructorFloorProps): ReactElement {
  const { session, sound, isClosing, nameOfKey, onPress, onView, onClose, onLeave, other } = props;
  const { driver } = session;
  const chart = driver.snapshot;
  const { people, rig, guideline } = session.opened.open;
  const keyName = (key: InstructorKey) => instructorKeyName(key, nameOfKey, session.instructorKeys);
  const rowsShown = useIsNarrow() ? LIVE_ROWS.narrow : LIVE_ROWS.wide;
  const { drawing, cycles, lastHandover, warnings } = useLiveSheet(session, rowsShown);
  const isFinished = chart.matches({ stage: 'finished' });
  // After a finish only what can still be done is shown.
  const actions = instructorActions(chart, people).filter(
    ({ request }) => !isFinished || session.canCall(request),
  );
  return (
    <main className="instructor">
      <h1 className="unseen">{FLOOR_WORDS.instructor}</h1>
      <section className="floor-sheet" aria-labelledby="sheet-title">
        <h2 id="sheet-title">
          {FLOOR_WORDS.sheet} <span className="quiet">{FLOOR_WORDS.sheetNote(cycles, rowsShown)}</span>
        </h2>
        {drawing === null ? (
          <p className="quiet">{FLOOR_WORDS.sheetEmpty}</p>
        ) : (
          <ScrollingSheet
            drawing={drawing}
            title={FLOOR_WORDS.sheet}
            label={FLOOR_WORDS.sheetLabel(cycles)}
          />
        )}
      </section>
      <section className="floor-side" aria-label={FLOOR_WORDS.now}>
        <DrillState
          chart={chart}
          people={people}
          now={session.clock.now}
          lines={driver.lines}
          notes={sequenceNotes({
            stage: chart.value.stage,
            context: chart.context,
            ventilation: driver.ventilation,
            guideline,
            rig,
            nowMs: session.clock.now(),
          })}
        />
        {session.plan === null || isFinished ? null : (
          <PlanStanding
            view={session.plan.viewAt(session.clock.now())}
            people={people}
            onNext={(timeStampMs) => session.callNextLeg(timeStampMs)}
          />
        )}
        {isFinished ? <FinishedPanel isClosing={isClosing} onClose={onClose} /> : null}
        {props.rateEntry ?? (
          <div className="floor-keys">
            {actions.map(({ key, label, request }) => (
              <KeyButton
                key={key}
                keyName={keyName(key)}
                label={label}
                isPossible={session.canCall(request)}
                onPress={(timeStampMs) => onPress(key, timeStampMs)}
              />
            ))}
            {isFinished ? null : (
              <KeyButton
                keyName={keyName('*')}
                label={FLOOR_WORDS.giveRate}
                isPossible={!chart.matches({ stage: 'notBegun' })}
                onPress={(timeStampMs) => onPress('*', timeStampMs)}
              />
            )}
            <KeyButton keyName={keyName('0')} label={FLOOR_WORDS.toLearners} isPossible onPress={onView} />
          </div>
        )}
        {other}
        {isFinished ? null : <LeaveDrill isClosing={isClosing} onLeave={onLeave} />}
      </section>
      <div className="floor-below">
        <TicksPanel
          shown={ticksShown(session, props.tickView)}
          view={props.tickView}
          technique={chart.context.arrangement.technique}
          onPress={props.onTick}
        />
        <LastHandover steps={lastHandover} />
      </div>
      <footer>
        <SoundTroubles sound={sound} isWanted={sound.isWanted && chart.context.guidance !== 'unled'} />
        <Notices session={session} warnings={warnings} isClosing={isClosing} nameOfKey={nameOfKey} />
        <Cautions rig={rig} />
      </footer>
    </main>
  );
}

/** Drawn anew after a cycle or a call, not after every press. */
function useLiveSheet({ driver, callCount }: DrillSession, rowsShown: number) {
  const cycles = driver.cycleCount;
  // biome-ignore lint/correctness/useExhaustiveDependencies: the driver is one object; what changes in it is counted
  return useMemo(() => liveSheetOf(driver, rowsShown), [driver, rowsShown, cycles, callCount]);
}
