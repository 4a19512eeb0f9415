import { type ReactElement, useSyncExternalStore } from 'react';
import { SOUND_TROUBLES, SOUND_WORDS } from '../../machines/words/screen-sound.ts';
import type { StationSound } from '../app/station-sound.ts';

type SoundTroublesProps = { sound: StationSound; isWanted: boolean };

/** What is wrong with the sound, each in a sentence, and that the drill works all the same. */
export function SoundTroubles({ sound, isWanted }: SoundTroublesProps): ReactElement {
  useSyncExternalStore(sound.subscribe, () => sound.version);
  const { troubles, isLoaded } = sound.status;
  return (
    <div role="status" aria-label={SOUND_WORDS.troubles} className="sound-troubles">
      {isLoaded || !isWanted ? null : <p className="quiet">{SOUND_WORDS.loading}</p>}
      {isWanted ? troubles.map((trouble) => <p key={trouble}>{SOUND_TROUBLES[trouble]}</p>) : null}
    </div>
  );
}
