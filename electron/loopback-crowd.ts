import type { Socket } from 'node:net';

/** Connections that have not shown the secret yet, at the most (tool default: a browser opens some ten at once). */
export const MAX_STRANGERS = 100;

/**
 * Who is connected. A connection that has not shown the secret may wait to be served, but when there are too many of them
 * the one that has waited longest goes: so neither a program nor a page that opens thousands keeps our own window out.
 */
export class LoopbackCrowd {
  /** In the order they came. */
  private readonly strangers = new Set<Socket>();

  take(socket: Socket): void {
    this.strangers.add(socket);
    socket.once('close', () => this.strangers.delete(socket));
    if (this.strangers.size <= MAX_STRANGERS) return;
    for (const longest of this.strangers) {
      this.strangers.delete(longest);
      longest.destroy();
      return;
    }
  }

  /** A request with the secret came over this connection: it is our window's, and stays. */
  trust(socket: Socket): void {
    this.strangers.delete(socket);
  }
}
