import type {
  CurrentDrill,
  DrillWindows,
  LinesWritten,
  makeBridge,
  Result,
} from '../../electron/contract.ts';
import { LinesFollower } from './lines-follower.ts';

/** The window's end of a carrier: what `makeBridge` asks for. */
type Carrier = Parameters<typeof makeBridge>[0];
export type LoopbackPlace = {
  /** `http://127.0.0.1:<port>`, the page's own origin. */
  origin: string;
  secret: string;
  /** Told to the host, so that it knows when this window is gone. */
  windowId?: string;
  fetch: typeof fetch;
  /** Waits before the next attempt; a test passes its own. */
  wait?: (ms: number) => Promise<void>;
};

/** Chromium lets bodies up to 64 KiB outlive the page that sent them. */
const KEEPALIVE_CHARACTERS = 20_000;

/**
 * A carrier over the station's own server. `listen` hears every line of every drill that this window opened,
 * read or heard of, once and in order, whatever happens to the connection between. Requests never reject.
 */
export function connectLoopback(place: LoopbackPlace): Carrier & { close(): void } {
  const { origin, secret, fetch: ask } = place;
  const headers = { 'x-antiphon-secret': secret };
  const listenHeaders =
    place.windowId === undefined ? headers : { ...headers, 'x-antiphon-window': place.windowId };
  const windowListeners = new Set<(windows: DrillWindows) => void>();
  const follower = new LinesFollower({
    connect: (signal) => ask(`${origin}/lines`, { headers: listenHeaders, signal, cache: 'no-store' }),
    readDrill: (drillId) => request('drill:read', { drillId }),
    onWindows: (windows) => {
      for (const listener of windowListeners) listener(windows);
    },
    wait: place.wait ?? ((ms) => new Promise((resolve) => setTimeout(resolve, ms))),
  });
  const request: Carrier['request'] = async (channel, argument) => {
    const body = JSON.stringify(argument);
    try {
      const response = await ask(`${origin}/request/${channel}`, {
        method: 'POST',
        headers: { ...headers, 'content-type': 'application/json' },
        body,
        cache: 'no-store',
        keepalive: body.length <= KEEPALIVE_CHARACTERS,
      });
      const result: unknown = await response.json();
      return isResult(result) ? (result as Result<never>) : noAnswer();
    } catch {
      return noAnswer();
    }
  };
  return {
    request: async (channel, argument) => {
      const result = await request(channel, argument);
      if (result.ok && channel === 'drill:open') follower.startAfter(result.value as { drillId: string }, 1);
      if (result.ok && channel === 'drill:read') {
        const text = result.value as LinesWritten;
        follower.startAfter(text, text.lines.at(-1)?.number ?? 1);
      }
      if (result.ok && channel === 'drill:current' && result.value !== null) {
        const text = result.value as CurrentDrill;
        follower.startAfter(text, text.lines.at(-1)?.number ?? 1);
      }
      return result;
    },
    listen: (listener) => follower.listen(listener),
    listenToWindows: (listener) => {
      windowListeners.add(listener);
      // One connection tells both.
      const stop = follower.listen(() => undefined);
      return () => {
        windowListeners.delete(listener);
        stop();
      };
    },
    close: () => follower.close(),
  };
}

/** Where the page keeps the secret between reloads, and the address it takes it from. */
export type SecretPlace = {
  hash: string;
  kept: Pick<Storage, 'getItem' | 'setItem'>;
  /** Puts the address without its fragment in the address's place. */
  clearHash: () => void;
};
const KEPT_AS = 'antiphon-secret';

/** The secret from the address's fragment, which is then cleared, or the one kept from before a reload. */
export function takeSecret(place: SecretPlace): string | null {
  const found = /^#([A-Za-z0-9_-]{43})$/.exec(place.hash)?.[1];
  if (found === undefined) return keptSecret(place.kept);
  place.kept.setItem(KEPT_AS, found);
  place.clearHash();
  return found;
}

/** The secret that this window has, or null. */
export function keptSecret(kept: Pick<Storage, 'getItem'>): string | null {
  return kept.getItem(KEPT_AS);
}

function isResult(value: unknown): boolean {
  return typeof value === 'object' && value !== null && 'ok' in value && typeof value.ok === 'boolean';
}

function noAnswer(): Result<never> {
  return { ok: false, code: 'internal', message: 'the station does not answer' };
}
