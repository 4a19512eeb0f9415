import { type ReactElement, useEffect, useMemo, useRef, useState } from 'react';
import { LEARNERS_ENGLISH } from '../../machines/words/learners-english.ts';
import { WALK_STEPS, WALK_WORDS, type WalkStep } from '../../machines/words/walk-words.ts';
import type { DrillSession } from '../app/drill-session.ts';
import { learnersViewOf } from '../app/learners-view.ts';
import { PlayedDrill } from '../app/played-drill.ts';
import { StandardShelf } from '../app/standard-shelf.ts';
import type { StationSound } from '../app/station-sound.ts';
import { FIRST_TICK_VIEW } from '../app/tick-keys.ts';
import { Debrief } from './debrief.tsx';
import { holdBackRepeats } from './hold-back-repeats.ts';
import { InstructorFloor } from './instructor-floor.tsx';
import { LearnersFloor } from './learners-floor.tsx';
import { useSession } from './use-session.ts';

type WalkThroughProps = {
  sound: StationSound;
  nameOfKey: (code: string) => string;
  onLeave: () => void;
  pageNow?: () => number;
};

/** So often the invented drill is looked at (tool default). */
const LOOK_EVERY_MS = 100;
const readPageNow = () => performance.now();

/** An invented pair's drill, step by step, on the station's own screens. */
export function WalkThrough({ sound, nameOfKey, onLeave, pageNow = readPageNow }: WalkThroughProps) {
  const [at, setAt] = useState(0);
  const drill = useMemo(() => new PlayedDrill(pageNow), [pageNow]);
  const step = WALK_STEPS[at];
  const session = useMemo(() => drill.show(step?.fromMs ?? 0, step?.untilMs ?? 0), [drill, step]);
  const isLast = at === WALK_STEPS.length - 1;
  const goOn = () => (isLast ? onLeave() : setAt(at + 1));
  useEffect(() => {
    const timer = setInterval(() => drill.advance(), LOOK_EVERY_MS);
    return () => clearInterval(timer);
  }, [drill]);
  const next = useRef<HTMLButtonElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: every step begins at its sentence
  useEffect(() => {
    next.current?.focus({ preventScroll: true });
    window.scrollTo(0, 0);
  }, [at]);
  useEffect(holdBackRepeats, []);
  useEffect(() => {
    const down = (event: KeyboardEvent) => {
      if (event.code === 'Escape' && !event.repeat) onLeave();
    };
    window.addEventListener('keydown', down);
    return () => window.removeEventListener('keydown', down);
  }, [onLeave]);
  if (step === undefined) throw new Error(`no step ${at}`);
  return (
    <div className="walk">
      <main className="walk-bar">
        <h1>
          {WALK_WORDS.title} <span className="quiet">{WALK_WORDS.stepOf(at + 1, WALK_STEPS.length)}</span>
        </h1>
        <p className="invented">{WALK_WORDS.invented}</p>
        <p className="walk-text" role="status">
          {step.text}
        </p>
        <p className="walk-actions">
          <button type="button" className="primary" ref={next} onClick={goOn}>
            {isLast ? WALK_WORDS.done : WALK_WORDS.goOn} <kbd>Enter</kbd>
          </button>
          {isLast ? null : (
            <button type="button" className="plain" onClick={onLeave}>
              <span>{WALK_WORDS.leave}</span> <kbd>Esc</kbd>
            </button>
          )}
        </p>
      </main>
      {step.view === 'nothing' ? null : (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls is reached by keyboard
        <section key={at} className="walk-stage" aria-label={WALK_WORDS.stage} tabIndex={0}>
          <div inert>
            <Shown step={step} drill={drill} session={session} sound={sound} nameOfKey={nameOfKey} />
          </div>
        </section>
      )}
    </div>
  );
}

type ShownProps = Pick<WalkThroughProps, 'sound' | 'nameOfKey'> & {
  step: WalkStep;
  drill: PlayedDrill;
  session: DrillSession;
};

/** The station's own screen at this step; nothing on it can be pressed. */
function Shown({ step, drill, session, sound, nameOfKey }: ShownProps): ReactElement {
  useSession(session);
  if (step.view === 'learners') return <ShownToLearners session={session} nameOfKey={nameOfKey} />;
  if (step.view === 'instructor') {
    return (
      <div className="floor floor-instructor">
        <InstructorFloor
          session={session}
          sound={sound}
          isClosing={false}
          nameOfKey={nameOfKey}
          onPress={doNothing}
          rateEntry={null}
          tickView={FIRST_TICK_VIEW}
          onTick={doNothing}
          onView={doNothing}
          onClose={doNothing}
          onLeave={doNothing}
          other={null}
        />
      </div>
    );
  }
  return (
    <Debrief
      text={drill.text}
      isShownAtOnce={step.view === 'debrief'}
      standards={NO_STANDARDS}
      onRemark={async () => ({ ok: false, code: 'not-allowed', message: WALK_WORDS.invented })}
      onLeave={doNothing}
    />
  );
}

/** The example alone: nothing of a walk through is the station's. */
const NO_STANDARDS = new StandardShelf({
  listStandards: async () => ({ ok: true, value: [] }),
  saveStandard: async () => ({ ok: false, code: 'not-allowed', message: WALK_WORDS.invented }),
  removeStandard: async () => ({ ok: false, code: 'not-allowed', message: WALK_WORDS.invented }),
});

function ShownToLearners({ session }: Pick<ShownProps, 'session' | 'nameOfKey'>): ReactElement {
  const { people } = session.opened.open;
  return (
    <div className="floor floor-learners">
      <LearnersFloor
        view={learnersViewOf(session.driver.snapshot, people, session.clock.now(), LEARNERS_ENGLISH)}
        words={LEARNERS_ENGLISH}
        planWords=""
        soon=""
        now={session.clock.now}
        isFinished={false}
        isEntering={false}
        viewKey="0"
        isClosing={false}
        trouble={null}
        onView={doNothing}
        onClose={doNothing}
        other={null}
      />
    </div>
  );
}

const doNothing = () => undefined;
