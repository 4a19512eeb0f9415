import type { ReactElement } from 'react';
import type { StationSettings } from '../../electron/contract.ts';
import { rigStanding } from '../../machines/words/rig-check.ts';
import { BINDING_CHOICES, RIG_CHOICES, SET_UP_WORDS } from '../../machines/words/screen-set-up.ts';
import { SWITCH_WORDS } from '../../machines/words/screen-switches.ts';
import { todaysCheck } from '../app/set-up-form.ts';
import { Choice, optionsOf } from '../components/choice.tsx';
import { formatTimeOfDay } from '../components/when.ts';

type RigChoiceProps = {
  settings: StationSettings;
  onChange: (changes: Partial<StationSettings>) => void;
  onCheck: () => void;
};

/** The rig that is wanted, and whether it may be one today. */
export function RigChoice({ settings, onChange, onCheck }: RigChoiceProps): ReactElement {
  const check = todaysCheck(settings);
  const time = check !== null && 'at' in check ? formatTimeOfDay(check.at) : '';
  return (
    <>
      <Choice
        legend={SET_UP_WORDS.rig}
        name="rig"
        options={optionsOf(RIG_CHOICES)}
        value={settings.rig}
        onChange={(rig) => onChange(rig === 'manikin' ? { rig, binding: 'place' } : { rig })}
      />
      {settings.rig === 'manikin' ? (
        <p className="rig-standing">
          {rigStanding(check, time, settings)}{' '}
          <button type="button" className="plain" onClick={onCheck}>
            {check === null ? SWITCH_WORDS.checkRig : SWITCH_WORDS.checkAgain}
          </button>
        </p>
      ) : (
        <Choice
          legend={SET_UP_WORDS.binding}
          name="binding"
          options={optionsOf(BINDING_CHOICES)}
          value={settings.binding}
          onChange={(binding) => onChange({ binding })}
        />
      )}
    </>
  );
}
