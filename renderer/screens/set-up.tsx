import { type FormEvent, type ReactElement, useEffect, useState } from 'react';
import type { StationSettings } from '../../electron/contract.ts';
import { guidelineOf } from '../../machines/pattern.ts';
import { GUIDELINE_WORDS } from '../../machines/words/guideline-table.ts';
import {
  AIRWAY_CHOICES,
  SET_UP_WORDS,
  STANCE_CHOICES,
  TECHNIQUE_CHOICES,
  TOLERANCE_CHOICES,
} from '../../machines/words/screen-set-up.ts';
import { PROBLEM_WORDS, SCREEN_WORDS } from '../../machines/words/screens.ts';
import { SETTINGS_WORDS } from '../../machines/words/settings-words.ts';
import type { OpenRequest, StationStart } from '../app/app-machine.ts';
import type { ClassShelf } from '../app/class-shelf.ts';
import type { PlanShelf } from '../app/plan-shelf.ts';
import { asPlanned, drillSetupOf, namesProblem, startingSettings } from '../app/set-up-form.ts';
import type { StationSound } from '../app/station-sound.ts';
import { Cautions } from '../components/cautions.tsx';
import { Choice, optionsOf } from '../components/choice.tsx';
import { GuidelineNumbers } from '../components/guideline-numbers.tsx';
import { OtherWindowButton } from '../components/other-window-button.tsx';
import type { SwitchDesk } from '../switches/switch-desk.ts';
import { ClassPage, type SavePaper } from './class-page.tsx';
import { CountAndSound } from './count-and-sound.tsx';
import { EarlierDrills } from './earlier-drills.tsx';
import { holdBackRepeats } from './hold-back-repeats.ts';
import { InstructorKeysFields } from './instructor-keys-fields.tsx';
import { PlanChoice, usePlan } from './plan-choice.tsx';
import { PlansPage } from './plans-page.tsx';
import { RigCheckPage } from './rig-check.tsx';
import { RigChoice } from './rig-choice.tsx';
import { RigGuide } from './rig-guide.tsx';
import { SettingsPage } from './settings-page.tsx';
import { SwitchCheckPage } from './switch-check.tsx';
import { SwitchesAndPeople } from './switches-and-people.tsx';

type SetUpProps = {
  start: StationStart;
  isOpening: boolean;
  switches: SwitchDesk;
  sound: StationSound;
  plans: PlanShelf;
  classes: ClassShelf;
  /** Saves what would be printed as a PDF; left out where the browser prints. */
  onSavePaper?: SavePaper;
  nameOfKey: (code: string) => string;
  onStart: (request: OpenRequest) => void;
  /** To be kept at once, drill or no drill. */
  onRemember: (settings: StationSettings) => void;
  onDebrief: (drillId: string) => void;
  /** Looks back over every drill; left out where there is no Ledger. */
  onLedger?: () => void;
  /** Opens the other window; left out where there is none. */
  onOtherWindow?: () => void;
};

/** Everything a drill needs, the last used remembered: two names and Enter are enough. */
export function SetUp(props: SetUpProps): ReactElement {
  const { start, isOpening, switches, sound, plans, nameOfKey, onStart, onRemember, onDebrief } = props;
  const [settings, setSettings] = useState(() => startingSettings(start.settings));
  const [page, setPage] = useState<
    'form' | 'rig check' | 'switch check' | 'guide' | 'plans' | 'class' | 'settings'
  >('form');
  const [problem, setProblem] = useState<string | null>(null);
  const change = (changes: Partial<StationSettings>) => setSettings((before) => ({ ...before, ...changes }));
  const remember = (changes: Partial<StationSettings>) => {
    change(changes);
    onRemember({ ...settings, ...changes });
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const wrong = namesProblem(settings.people);
    setProblem(wrong);
    // Asked for now, not when the page was drawn: the day and the devices may have changed.
    if (wrong === null && !isOpening) onStart({ setup: setupNow(), settings });
  };
  useEffect(holdBackRepeats, []);
  const plan = usePlan(plans, settings.plan);
  const setupNow = () => drillSetupOf(settings, (one) => switches.timesOf(one), plan);
  if (page === 'guide') return <RigGuide onBack={() => setPage('form')} />;
  if (page === 'plans')
    return <PlansPage shelf={plans} chosen={settings.plan} onBack={() => setPage('form')} />;
  if (page === 'class') {
    return (
      <ClassPage
        shelf={props.classes}
        {...(props.onSavePaper === undefined ? {} : { onSavePaper: props.onSavePaper })}
        onTake={({ chest, airway }) => {
          change({ people: { A: chest, B: airway }, roles: { compressor: 'A', ventilator: 'B' } });
          setPage('form');
        }}
        onBack={() => setPage('form')}
      />
    );
  }
  if (page === 'settings') {
    const onBack = () => setPage('form');
    return <SettingsPage settings={settings} nameOfKey={nameOfKey} onChange={remember} onBack={onBack} />;
  }
  if (page === 'switch check') {
    return (
      <SwitchCheckPage
        settings={settings}
        desk={switches}
        onDone={(switchCheck) => {
          setPage('form');
          if (switchCheck !== null) remember({ switchCheck });
        }}
      />
    );
  }
  if (page === 'rig check') {
    return (
      <RigCheckPage
        asked={asPlanned(settings, plan)}
        makeSwitches={() => switches.make(settings, setupNow())}
        instructorKeys={settings.instructorKeys}
        nameOfKey={nameOfKey}
        onDone={(rigCheck) => {
          setPage('form');
          if (rigCheck !== null) remember({ rigCheck });
        }}
      />
    );
  }
  const guideline = guidelineOf(settings.guideline);
  const hostProblem = start.problem === null ? null : PROBLEM_WORDS.notOpened(start.problem);
  return (
    <form className="set-up" onSubmit={submit}>
      <header>
        <h1>
          {SCREEN_WORDS.product} <span className="quiet">{SET_UP_WORDS.title}</span>
        </h1>
        <p className="quiet">{SET_UP_WORDS.intro}</p>
        {props.onOtherWindow && <OtherWindowButton from="instructor" onOpen={props.onOtherWindow} />}
      </header>
      <main>
        <div className="set-up-columns">
          <div>
            <SwitchesAndPeople
              settings={settings}
              desk={switches}
              nameOfKey={nameOfKey}
              onChange={change}
              onClass={() => setPage('class')}
              onGuide={() => setPage('guide')}
              onMeasure={() => setPage('switch check')}
            />
            <InstructorKeysFields settings={settings} nameOfKey={nameOfKey} onChange={change} />
            <RigChoice
              settings={asPlanned(settings, plan)}
              onChange={change}
              onCheck={() => setPage('rig check')}
            />
            <PlanChoice
              shelf={plans}
              settings={settings}
              onChange={change}
              onPlans={() => setPage('plans')}
            />
            {plan === null ? <Arrangement settings={settings} onChange={change} /> : null}
          </div>
          <div>
            <CountAndSound sound={sound} settings={settings} isPlanned={plan !== null} onChange={change} />
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
        </div>
        <button type="button" className="plain" onClick={() => setPage('settings')}>
          {SETTINGS_WORDS.open}
        </button>
        <EarlierDrills
          entries={start.entries}
          facts={start.facts}
          onDebrief={onDebrief}
          onLedger={
            props.onLedger &&
            (() => {
              // What was filled in is kept, and comes back as the host then has it: without a name that was removed.
              onRemember(settings);
              props.onLedger?.();
            })
          }
        />
      </main>
      <footer>
        <p className="problem" role="alert">
          {problem ?? hostProblem}
        </p>
        <div className="start">
          <button type="submit" className="primary" aria-disabled={isOpening}>
            {isOpening ? SET_UP_WORDS.starting : SET_UP_WORDS.start} <kbd>Enter</kbd>
          </button>
          <Cautions rig={setupNow().rig} />
        </div>
      </footer>
    </form>
  );
}

type ArrangementProps = { settings: StationSettings; onChange: (changes: Partial<StationSettings>) => void };

/** How the compressor works; a plan says it leg by leg. */
function Arrangement({ settings, onChange }: ArrangementProps): ReactElement {
  return (
    <>
      <Choice
        legend={SET_UP_WORDS.technique}
        name="technique"
        options={optionsOf(TECHNIQUE_CHOICES)}
        value={settings.technique}
        onChange={(technique) => onChange({ technique })}
      />
      <Choice
        legend={SET_UP_WORDS.stance}
        name="stance"
        options={optionsOf(STANCE_CHOICES)}
        value={settings.stance}
        onChange={(stance) => onChange({ stance })}
      />
      <Choice
        legend={SET_UP_WORDS.airway}
        name="airway"
        options={optionsOf(AIRWAY_CHOICES)}
        value={settings.airway}
        onChange={(airway) => onChange({ airway })}
      />
    </>
  );
}
