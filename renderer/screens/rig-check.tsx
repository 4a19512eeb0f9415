import { type ReactElement, useCallback, useEffect, useState } from 'react';
import type { InstructorKeys } from '../../machines/instructor-keys.ts';
import type { RigCheck, Stance, Switch, Technique } from '../../machines/journal.ts';
import { STANCES, TECHNIQUES } from '../../machines/journal.ts';
import {
  currentStep,
  nextRigCheck,
  outcomeOf,
  type RigCheckEvent,
  type RigCheckSnapshot,
  type SwitchState,
  startRigCheck,
} from '../../machines/rig-check/rig-check-machine.ts';
import {
  RIG_CHECK_OUTCOMES,
  RIG_CHECK_WORDS,
  stepWords,
  troubleWords,
} from '../../machines/words/rig-check.ts';
import { STANCE_CHOICES, TECHNIQUE_CHOICES } from '../../machines/words/screen-set-up.ts';
import { listenForInstructor } from '../adapters/floor-keys.ts';
import { instructorKeyName } from '../adapters/key-uses.ts';
import { Cautions } from '../components/cautions.tsx';
import { KeyButton } from '../components/key-button.tsx';
import { SomeOf } from '../components/some-of.tsx';
import type { SwitchSource } from '../switches/switch-source.ts';

type RigCheckPageProps = {
  asked: { technique: Technique; stance: Stance };
  makeSwitches: () => SwitchSource;
  instructorKeys: InstructorKeys;
  nameOfKey: (code: string) => string;
  /** Null: left before it was begun. */
  onDone: (check: RigCheck | null) => void;
};
type Parts = { techniques: readonly Technique[]; stances: readonly Stance[] };

/** The check of the day: what it is made with, then step by step, then how it came out. */
export function RigCheckPage(props: RigCheckPageProps): ReactElement {
  const { asked, makeSwitches, instructorKeys, nameOfKey, onDone } = props;
  const [parts, setParts] = useState<Parts>({ techniques: [asked.technique], stances: [asked.stance] });
  const [isBegun, setBegun] = useState(false);
  return (
    <main className="rig-check">
      <h1>{RIG_CHECK_WORDS.title}</h1>
      {isBegun ? (
        <RigCheckSteps
          parts={parts}
          makeSwitches={makeSwitches}
          instructorKeys={instructorKeys}
          nameOfKey={nameOfKey}
          onEnded={(outcome) =>
            onDone({
              outcome,
              at: new Date().toISOString(),
              techniques: [...parts.techniques],
              stances: [...parts.stances],
            })
          }
        />
      ) : (
        <>
          <p>{RIG_CHECK_WORDS.why}</p>
          <p>{RIG_CHECK_WORDS.who}</p>
          <SomeOf
            legend={RIG_CHECK_WORDS.techniques}
            options={TECHNIQUES.map((value) => ({ value, label: TECHNIQUE_CHOICES[value].label }))}
            values={parts.techniques}
            onChange={(techniques) => setParts({ ...parts, techniques })}
          />
          <SomeOf
            legend={RIG_CHECK_WORDS.stances}
            options={STANCES.map((value) => ({ value, label: STANCE_CHOICES[value].label }))}
            values={parts.stances}
            onChange={(stances) => setParts({ ...parts, stances })}
          />
          <p className="note">{RIG_CHECK_WORDS.note}</p>
          {/* biome-ignore lint/a11y/noAutofocus: the page was opened for it, and one key goes on */}
          <button type="button" className="primary" autoFocus onClick={() => setBegun(true)}>
            {RIG_CHECK_WORDS.start} <kbd>Enter</kbd>
          </button>
          <button type="button" className="plain" onClick={() => onDone(null)}>
            {RIG_CHECK_WORDS.back}
          </button>
        </>
      )}
      <footer>
        <Cautions rig="manikin" />
      </footer>
    </main>
  );
}

type RigCheckStepsProps = Pick<RigCheckPageProps, 'makeSwitches' | 'instructorKeys' | 'nameOfKey'> & {
  parts: Parts;
  onEnded: (outcome: 'passed' | 'failed' | 'skipped') => void;
};

function RigCheckSteps(props: RigCheckStepsProps): ReactElement {
  const { parts, makeSwitches, instructorKeys, nameOfKey, onEnded } = props;
  const { check, send } = useRigCheck(parts, makeSwitches, instructorKeys);
  const { context } = check;
  const { switches } = context;
  const step = currentStep(check);
  const outcome = outcomeOf(check);
  if (step === null || outcome !== null) {
    return (
      <div role="status">
        <p className="step">{RIG_CHECK_OUTCOMES[outcome ?? 'skipped']}</p>
        {/* biome-ignore lint/a11y/noAutofocus: there is one thing left to do */}
        <button type="button" className="primary" autoFocus onClick={() => onEnded(outcome ?? 'skipped')}>
          {RIG_CHECK_WORDS.done} <kbd>Enter</kbd>
        </button>
      </div>
    );
  }
  const isRefused = check.value === 'refused';
  return (
    <>
      <div role="status">
        <p className="quiet">{RIG_CHECK_WORDS.step(context.at + 1, context.steps.length)}</p>
        <p className="step">{stepWords(step)}</p>
        <p className="problem">
          {context.trouble === null ? '' : troubleWords(context.trouble, step.switch)}
        </p>
      </div>
      <ul className="switch-states">
        <li className={`is-${switches.chest}`}>{RIG_CHECK_WORDS.chestIs(switches.chest)}</li>
        <li className={`is-${switches.airway}`}>{RIG_CHECK_WORDS.airwayIs(switches.airway)}</li>
      </ul>
      <KeyButton
        keyName={instructorKeyName('1', nameOfKey, instructorKeys)}
        label={isRefused ? RIG_CHECK_WORDS.again : RIG_CHECK_WORDS.confirm}
        isPossible
        onPress={() => send({ type: 'hands confirmed' })}
      />
      <KeyButton
        keyName={instructorKeyName('9', nameOfKey, instructorKeys)}
        label={isRefused ? RIG_CHECK_WORDS.fail : RIG_CHECK_WORDS.skip}
        isPossible
        onPress={() => send({ type: 'check ended' })}
      />
    </>
  );
}

/** The check's chart, fed with the switches and the instructor's two keys. */
function useRigCheck(
  parts: Parts,
  makeSwitches: () => SwitchSource,
  instructorKeys: InstructorKeys,
): { check: RigCheckSnapshot; send: (event: RigCheckEvent) => void } {
  const [check, setCheck] = useState(() => startRigCheck(parts));
  const [switches] = useState(makeSwitches);
  const send = useCallback((event: RigCheckEvent) => setCheck((before) => nextRigCheck(before, event)), []);
  useEffect(() => {
    const move = (name: Switch, to: SwitchState) => {
      if (name === 'chest' || name === 'airway') send({ type: 'switch moved', switch: name, to });
    };
    return switches.listen({
      onEdge: ({ switch: name, down, lost }) => move(name, lost === true ? 'unknown' : stateOf(down)),
      onRepeat: (name) => move(name, 'down'),
      onLevel: (name, isDown) => move(name, isDown === null ? 'unknown' : stateOf(isDown)),
      onThirdKey: () => undefined,
      onFocus: () => undefined,
      onDevice: (what, name) => {
        if (what === 'unplugged') move(name, 'unknown');
      },
    });
  }, [switches, send]);
  useEffect(
    () =>
      listenForInstructor(window, instructorKeys, {
        onKey: (key) => {
          if (key === '1') send({ type: 'hands confirmed' });
          if (key === '9') send({ type: 'check ended' });
        },
        onEnter: () => undefined,
      }),
    [send, instructorKeys],
  );
  return { check, send };
}

function stateOf(isDown: boolean): SwitchState {
  return isDown ? 'down' : 'up';
}
