import type { SwitchSource } from './switch-source.ts';

/** Several sources as one, so that one switch may be a key and the other a pad's button. Listened to in their order. */
export function combineSources(sources: readonly SwitchSource[]): SwitchSource {
  return {
    listen: (listener) => {
      const stops = sources.map((source) => source.listen(listener));
      return () => {
        for (const stop of stops) stop();
      };
    },
  };
}
