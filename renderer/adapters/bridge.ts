import { type Bridge, makeBridge } from '../../electron/contract.ts';
import { connectLoopback, takeSecret } from './loopback-carrier.ts';

declare global {
  interface Window {
    /** Put there by Electron's preload script. */
    antiphon?: Bridge;
  }
}

/** The bridge to the computer: Electron's if its preload ran, else the station's own server; null when neither is there. */
export function connectBridge(window: Window, windowId: string): Bridge | null {
  if (window.antiphon !== undefined) return window.antiphon;
  if (!window.location.protocol.startsWith('http')) return null;
  const secret = takeSecret({
    hash: window.location.hash,
    kept: window.sessionStorage,
    clearHash: () =>
      window.history.replaceState(null, '', `${window.location.pathname}${window.location.search}`),
  });
  if (secret === null) return null;
  return makeBridge(
    connectLoopback({ origin: window.location.origin, secret, windowId, fetch: window.fetch.bind(window) }),
  );
}
