import { type FormEvent, type ReactElement, useState } from 'react';
import type { StationSettings } from '../../electron/contract.ts';
import { guidelineOf } from '../../machines/pattern.ts';
import { GUIDELINE_WORDS } from '../../machines/words/guideline-table.ts';
import {
  AIRWAY_CHOICES,
  BINDING_CHOICES,
  RIG_CHOICES,
  SET_UP_WORDS,
  STANCE_CHOICES,
  TECHNIQUE_CHOICES,
  TOLERANCE_CHOICES,
} from '../../machines/words/screen-set-up.ts';
import { PROBLEM_WORDS, SCREEN_WORDS } from '../../machines/words/screens.ts';
import type { OpenRequest, StationStart } from '../app/app-machine.ts';
import { drillSetupOf, namesProblem, startingSettings } from '../app/set-up-form.ts';
import type { StationSound } from '../app/station-sound.ts';
import { Cautions } from '../components/cautions.tsx';
import { Choice, optionsOf } from '../components/choice.tsx';
import { GuidelineNumbers } from '../components/guideline-numbers.tsx';
import { CountAndSound } from './count-and-sound.tsx';
import { EarlierDrills } from './earlier-drills.tsx';
import { KeysAndPeople } from './keys-and-people.tsx';

type SetUpProps = {
  start: StationStart;
  isOpening: boolean;
  sound: StationSound;
  nameOfKey: (code: string) => string;
  onStart: (request: OpenRequest) => void;
  onDebrief: (drillId: string) => void;
};

/** Everything a drill needs, the last used remembered: two names and Enter are enough. */
export function SetUp({ start, isOpening, sound, nameOfKey, onStart, onDebrief }: SetUpProps): ReactElement {
  const [settings, setSettings] = useState(() => startingSettings(start.settings));
  const [problem, setProblem] = useState<string | null>(null);
  const change = (changes: Partial<StationSettings>) => setSettings((before) => ({ ...before, ...changes }));
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const wrong = namesProblem(settings.people);
    setProblem(wrong);
    if (wrong === null && !isOpening) onStart({ setup: drillSetupOf(settings), settings });
  };
  const guideline = guidelineOf(settings.guideline);
  const hostProblem = start.problem === null ? null : PROBLEM_WORDS.notOpened(start.problem);
  return (
    <form className="set-up" onSubmit={submit}>
      <header>
        <h1>
          {SCREEN_WORDS.product} <span className="quiet">{SET_UP_WORDS.title}</span>
        </h1>
        <p className="quiet">{SET_UP_WORDS.intro}</p>
      </header>
      <main>
        <div className="set-up-columns">
          <div>
            <KeysAndPeople settings={settings} nameOfKey={nameOfKey} onChange={change} />
            <Choice
              legend={SET_UP_WORDS.rig}
              name="rig"
              options={optionsOf(RIG_CHOICES)}
              value={settings.rig}
              onChange={(rig) => change(rig === 'manikin' ? { rig, binding: 'place' } : { rig })}
            />
            {settings.rig === 'rhythm' ? (
              <Choice
                legend={SET_UP_WORDS.binding}
                name="binding"
                options={optionsOf(BINDING_CHOICES)}
                value={settings.binding}
                onChange={(binding) => change({ binding })}
              />
            ) : null}
            <Choice
              legend={SET_UP_WORDS.technique}
              name="technique"
              options={optionsOf(TECHNIQUE_CHOICES)}
              value={settings.technique}
              onChange={(technique) => change({ technique })}
            />
            <Choice
              legend={SET_UP_WORDS.stance}
              name="stance"
              options={optionsOf(STANCE_CHOICES)}
              value={settings.stance}
              onChange={(stance) => change({ stance })}
            />
            <Choice
              legend={SET_UP_WORDS.airway}
              name="airway"
              options={optionsOf(AIRWAY_CHOICES)}
              value={settings.airway}
              onChange={(airway) => change({ airway })}
            />
            <Choice
              legend={SET_UP_WORDS.tolerance}
              name="tolerance"
              options={optionsOf(TOLERANCE_CHOICES)}
              value={settings.tolerance}
              onChange={(tolerance) => change({ tolerance })}
            />
            <Choice
              legend={SET_UP_WORDS.guideline}
              name="guideline"
              options={optionsOf(GUIDELINE_WORDS)}
              value={guideline?.name ?? 'us-style'}
              onChange={(name) => change({ guideline: name })}
            />
            {guideline === null ? null : <GuidelineNumbers guideline={guideline} />}
          </div>
          <div>
            <CountAndSound sound={sound} settings={settings} onChange={change} />
          </div>
        </div>
        <EarlierDrills entries={start.entries} facts={start.facts} onDebrief={onDebrief} />
      </main>
      <footer>
        <p className="problem" role="alert">
          {problem ?? hostProblem}
        </p>
        <div className="start">
          <button type="submit" className="primary" aria-disabled={isOpening}>
            {isOpening ? SET_UP_WORDS.starting : SET_UP_WORDS.start} <kbd>Enter</kbd>
          </button>
          <Cautions rig={settings.rig} />
        </div>
      </footer>
    </form>
  );
}
