import { type ReactElement, useCallback, useEffect, useReducer, useState } from 'react';
import type { StationSettings, SwitchBinding } from '../../electron/contract.ts';
import { padControlName, SWITCH_REFUSALS, SWITCH_WORDS } from '../../machines/words/screen-switches.ts';
import { formatTimeOfDay, formatWhen, isToday } from '../components/when.ts';
import type { SwitchDesk } from '../switches/switch-desk.ts';
import { isSameSwitch, type Refusal } from '../switches/switch-finder.ts';

type Which = keyof StationSettings['switches'];
type SwitchBindingsProps = {
  settings: StationSettings;
  desk: SwitchDesk;
  labels: Record<Which, string>;
  nameOfKey: (code: string) => string;
  onChange: (changes: Partial<StationSettings>) => void;
  onGuide: () => void;
  onMeasure: () => void;
};
/** Which switch is awaited, and whether the other one's turn comes after it. */
type Asking = { which: Which; isBoth: boolean; first?: SwitchBinding };

/** Switches are bound by pressing them. One that cannot be taken is refused with the reason, and the next is awaited. */
export function SwitchBindings(props: SwitchBindingsProps): ReactElement {
  const { settings, desk, labels, nameOfKey, onChange, onGuide, onMeasure } = props;
  const [asking, setAsking] = useState<Asking | null>(null);
  const [refusal, setRefusal] = useState<Refusal | null>(null);
  const [, lookAgain] = useReducer((count: number) => count + 1, 0);
  useEffect(() => desk.onPadsChanged(lookAgain), [desk]);
  const take = useCallback(
    ({ which, isBoth, first }: Asking, found: SwitchBinding) => {
      setRefusal(null);
      // The first of both counts only with the second: given up between, all is as it was.
      if (isBoth && which === 'chest') return setAsking({ which: 'airway', isBoth, first: found });
      const now = { ...settings.switches, ...(first === undefined ? {} : { chest: first }) };
      const { chest, airway } = which === 'chest' ? { ...now, chest: found } : { ...now, airway: found };
      const isOld =
        isSameSwitch(chest, settings.switches.chest) && isSameSwitch(airway, settings.switches.airway);
      onChange({
        switches: { chest, airway },
        // Another switch is another rig: what was checked and measured was not this one.
        ...(isOld ? {} : { rigCheck: null, switchCheck: null }),
        ...(isBoth ? { boundAt: new Date().toISOString() } : {}),
      });
      setAsking(null);
    },
    [settings.switches, onChange],
  );
  useEffect(() => {
    if (asking === null) return;
    // The first of both may be any switch, also the one that the second was until now.
    const other = asking.first ?? settings.switches[otherOf(asking.which)];
    const isFirst = asking.isBoth && asking.which === 'chest';
    return desk.find(isFirst ? null : other, settings.instructorKeys, {
      onFound: (found) => take(asking, found),
      onRefused: setRefusal,
      onGivenUp: () => setAsking(null),
    });
  }, [asking, desk, settings.switches, settings.instructorKeys, take]);
  const ask = (next: Asking) => {
    setRefusal(null);
    setAsking(next);
  };
  return (
    <fieldset className="switches">
      <legend>{SWITCH_WORDS.legend}</legend>
      {(['chest', 'airway'] as const).map((which) => (
        <BoundSwitch
          key={which}
          label={labels[which]}
          name={switchName(settings.switches[which], nameOfKey)}
          isPresent={desk.isPresent(settings.switches[which], settings.switches[otherOf(which)])}
          isAsking={asking?.which === which}
          onAsk={() => ask({ which, isBoth: false })}
        />
      ))}
      <p className="refusal" role="status">
        {refusal === null ? '' : SWITCH_REFUSALS[refusal]}
      </p>
      <p className="switch-actions">
        <button type="button" className="plain" onClick={() => ask({ which: 'chest', isBoth: true })}>
          {SWITCH_WORDS.bindBoth}
        </button>
        <button type="button" className="plain" onClick={onMeasure}>
          {SWITCH_WORDS.measure}
        </button>
        <button type="button" className="plain" onClick={onGuide}>
          {SWITCH_WORDS.guide}
        </button>
      </p>
      <p className="note">
        {settings.boundAt !== null && isToday(settings.boundAt)
          ? SWITCH_WORDS.boundToday(formatTimeOfDay(settings.boundAt))
          : SWITCH_WORDS.notBoundToday}{' '}
        {SWITCH_WORDS.keysNote}
      </p>
      <FoundNote settings={settings} onChange={onChange} />
      <label className="check-line">
        <input
          type="checkbox"
          checked={settings.isBegunByHolding}
          onChange={(event) => onChange({ isBegunByHolding: event.target.checked })}
        />
        {SWITCH_WORDS.holding}
      </label>
    </fieldset>
  );
}

/** What the switch check found, in a sentence, and whether the offset is taken out of the score. */
function FoundNote({ settings, onChange }: Pick<SwitchBindingsProps, 'settings' | 'onChange'>): ReactElement {
  const { switchCheck } = settings;
  const offset = switchCheck?.found.switchOffset;
  return (
    <>
      <p className="note">{switchCheck === null ? SWITCH_WORDS.notMeasured : foundWords(switchCheck)}</p>
      {switchCheck === null || offset === undefined ? null : (
        <label className="check-line">
          <input
            type="checkbox"
            checked={offset.applied}
            onChange={({ target: { checked } }) =>
              onChange({
                switchCheck: {
                  ...switchCheck,
                  found: { ...switchCheck.found, switchOffset: { ...offset, applied: checked } },
                },
              })
            }
          />
          {SWITCH_WORDS.takeOut(offset.medianMs)}
        </label>
      )}
    </>
  );
}

function foundWords({ at, found }: NonNullable<StationSettings['switchCheck']>): string {
  return found.bounceProblem === undefined
    ? SWITCH_WORDS.measured(formatWhen(at), found.bounceMs)
    : SWITCH_WORDS.bouncesTooLong(formatWhen(at), found.bounceProblem);
}

type BoundSwitchProps = {
  label: string;
  name: string;
  isPresent: boolean;
  isAsking: boolean;
  onAsk: () => void;
};

function BoundSwitch({ label, name, isPresent, isAsking, onAsk }: BoundSwitchProps): ReactElement {
  return (
    <div className="switch-binding">
      <span className="switch-binding-label">{label}</span>
      <kbd className="keycap">{name}</kbd>
      <button type="button" className="plain" aria-pressed={isAsking} onClick={onAsk}>
        {isAsking ? SWITCH_WORDS.pressNow(label) : SWITCH_WORDS.change}
        <span className="unseen">{isAsking ? '' : ` ${label}`}</span>
      </button>
      {isPresent ? null : <span className="quiet">{SWITCH_WORDS.notPluggedIn}</span>}
    </div>
  );
}

function otherOf(which: Which): Which {
  return which === 'chest' ? 'airway' : 'chest';
}

function switchName(binding: SwitchBinding, nameOfKey: (code: string) => string): string {
  return binding.kind === 'key' ? nameOfKey(binding.code) : padControlName(binding);
}
