import { type ReactElement, useEffect, useSyncExternalStore } from 'react';
import { PITCHES, type StationSettings } from '../../electron/contract.ts';
import { CYCLE_MS, SLOW_CYCLE_MS } from '../../machines/pattern.ts';
import { LEARNERS_WORDS } from '../../machines/words/languages.ts';
import {
  GUIDANCE_CHOICES,
  LANGUAGE_CHOICES,
  SOUND_CHOICES,
  SOUND_WORDS,
  STATIONS_CHOICES,
  TEMPO_CHOICES,
} from '../../machines/words/screen-sound.ts';
import { withStations, withTempo } from '../app/set-up-form.ts';
import type { Exercise, StationSound } from '../app/station-sound.ts';
import { Choice, optionsOf } from '../components/choice.tsx';
import { Count } from './count.tsx';
import { SoundTroubles } from './sound-troubles.tsx';
import { WeaningRuleFields } from './weaning-rule-fields.tsx';

type CountAndSoundProps = {
  sound: StationSound;
  settings: StationSettings;
  /** A plan says tempo and guidance leg by leg. */
  isPlanned: boolean;
  onChange: (changes: Partial<StationSettings>) => void;
};
const EXERCISES: readonly Exercise[] = ['once', 'spoken'];
const pageNow = () => performance.now();

/** How the count is given, what is wrong with its sound, and the first exercises, which need no switch. */
export function CountAndSound({ sound, settings, isPlanned, onChange }: CountAndSoundProps): ReactElement {
  useSyncExternalStore(sound.subscribe, () => sound.version);
  const changeSound = (changes: Partial<StationSettings['sound']>) => {
    const changed = { ...settings.sound, ...changes };
    sound.player.setVolume(changed.volume);
    if (!changed.isOn) sound.endExercise();
    onChange({ sound: changed });
  };
  const { isOn, pitch, volume } = settings.sound;
  return (
    <>
      {isPlanned ? null : (
        <>
          <Choice
            legend={SOUND_WORDS.tempo}
            name="tempo"
            options={optionsOf(TEMPO_CHOICES)}
            value={settings.tempo}
            onChange={(tempo) => onChange(withTempo(settings, tempo))}
          />
          <Choice
            legend={SOUND_WORDS.guidance}
            name="guidance"
            options={optionsOf(GUIDANCE_CHOICES)}
            value={settings.guidance}
            onChange={(guidance) => onChange({ guidance })}
          />
        </>
      )}
      {isPlanned || settings.guidance === 'weaned' ? (
        <WeaningRuleFields rule={settings.weaning} onChange={(weaning) => onChange({ weaning })} />
      ) : null}
      <Choice
        legend={SOUND_WORDS.stations}
        name="stations"
        options={optionsOf(STATIONS_CHOICES)}
        value={settings.stations}
        onChange={(stations) => onChange(withStations(settings, stations))}
      />
      <Choice
        legend={SOUND_WORDS.sound}
        name="sound"
        options={optionsOf(SOUND_CHOICES)}
        value={isOn ? 'on' : 'off'}
        onChange={(chosen) => changeSound({ isOn: chosen === 'on' })}
      />
      {isOn ? (
        <>
          <Choice
            legend={SOUND_WORDS.pitch}
            name="pitch"
            options={pitchOptions}
            value={String(pitch)}
            onChange={(chosen) => changeSound({ pitch: Number(chosen) })}
          />
          <label className="volume">
            <span>{SOUND_WORDS.volume}</span>
            <input
              type="range"
              min={0}
              max={100}
              step={5}
              value={Math.round(volume * 100)}
              onChange={(event) => changeSound({ volume: Number(event.target.value) / 100 })}
            />
          </label>
        </>
      ) : null}
      <Choice
        legend={SOUND_WORDS.language}
        name="language"
        options={optionsOf(LANGUAGE_CHOICES)}
        value={settings.language}
        onChange={(language) => {
          sound.endExercise();
          onChange({ language });
        }}
      />
      <SoundTroubles sound={sound} isWanted={isOn} />
      <Exercises sound={sound} settings={settings} />
    </>
  );
}

const pitchOptions = Array.from({ length: PITCHES }, (_, index) => ({
  value: String(index + 1),
  label: SOUND_WORDS.pitchOf(index + 1),
}));

function Exercises({ sound, settings }: Pick<CountAndSoundProps, 'sound' | 'settings'>): ReactElement {
  const { exercise } = sound.status;
  const endMs = exercise?.order.endMs ?? null;
  const words = LEARNERS_WORDS[settings.language];
  useEffect(() => {
    if (endMs === null) return;
    const timer = setTimeout(() => sound.endExercise(), Math.max(0, endMs - pageNow()));
    return () => clearTimeout(timer);
  }, [endMs, sound]);
  // None goes on when Set-up is left.
  useEffect(() => () => sound.endExercise(), [sound]);
  const cycleMs = settings.tempo === 'slow' ? SLOW_CYCLE_MS : CYCLE_MS;
  return (
    <fieldset className="exercises">
      <legend>{SOUND_WORDS.exercises}</legend>
      <div className="exercise-buttons">
        {EXERCISES.map((kind) => (
          <button
            key={kind}
            type="button"
            className="plain"
            onClick={() => sound.exercise(kind, cycleMs, settings.sound, settings.language)}
          >
            {exercise?.kind === kind ? `${SOUND_WORDS.stop}: ${SOUND_WORDS[kind]}` : SOUND_WORDS[kind]}
          </button>
        ))}
      </div>
      <p className="note">{settings.sound.isOn ? SOUND_WORDS.spokenNote : SOUND_WORDS.spokenNoteShown}</p>
      <div className="exercise-count" lang={words.code}>
        {exercise === null ? null : <Count order={exercise.order} now={pageNow} words={words} />}
      </div>
    </fieldset>
  );
}
