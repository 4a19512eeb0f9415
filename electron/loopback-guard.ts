import { createHash, timingSafeEqual } from 'node:crypto';

export const SECRET_HEADER = 'x-antiphon-secret';
/** Which window listens: so that the host knows when it is gone. */
export const WINDOW_HEADER = 'x-antiphon-window';

/** What a request tells of who sent it; undefined where the header is missing. */
export type LoopbackSender = {
  method: string;
  host: string | undefined;
  origin: string | undefined;
  fetchSite: string | undefined;
  secret: string | undefined;
};

/**
 * True for our own window. `Host` keeps out pages whose name was turned to this address; `Origin` keeps out
 * other pages (browsers leave it away on a page's GET to its own server, and say so in `Sec-Fetch-Site`);
 * the secret keeps out the other programs and users of the computer.
 */
export function makeLoopbackGuard(own: {
  host: string;
  secret: string;
}): (sender: LoopbackSender) => boolean {
  return (sender) =>
    sender.host === own.host &&
    hasOwnOrigin(sender, `http://${own.host}`) &&
    isSame(sender.secret ?? '', own.secret);
}

function hasOwnOrigin(sender: LoopbackSender, origin: string): boolean {
  if (sender.origin !== undefined) return sender.origin === origin;
  return sender.method === 'GET' && (sender.fetchSite === undefined || sender.fetchSite === 'same-origin');
}

/** Compares in a time that tells nothing of where two texts differ. */
function isSame(a: string, b: string): boolean {
  const digest = (text: string) => createHash('sha256').update(text).digest();
  return timingSafeEqual(digest(a), digest(b));
}
