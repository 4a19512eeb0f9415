import { type Bridge, type WindowRole, windowAddress } from '../../electron/contract.ts';
import { keptSecret } from './loopback-carrier.ts';

/**
 * `noopener` gives the new window a process of its own: one that stops or is killed takes nothing of the other with it,
 * and keys wait for no one else's drawing. The secret goes along in the fragment, as in the address the browser was started with.
 */
const FEATURES = 'noopener,popup,width=1280,height=860';

/** Opens the station's window for a role: by the host in Electron, by the page itself in a browser. */
export async function openOtherWindow(
  window: Window,
  bridge: Pick<Bridge, 'openWindow'>,
  role: WindowRole,
): Promise<void> {
  if (window.antiphon !== undefined) {
    await bridge.openWindow(role);
    return;
  }
  const { origin } = window.location;
  const secret = keptSecret(window.sessionStorage) ?? '';
  window.open(`${windowAddress(`${origin}/`, role)}#${secret}`, '_blank', FEATURES);
}
