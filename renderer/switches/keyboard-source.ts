import type { Switch } from '../../machines/journal.ts';
import type { Ms } from '../../machines/units.ts';
import { instructorKeyOf, isWindowKey } from '../adapters/key-uses.ts';
import type { SwitchListener, SwitchSource } from './switch-source.ts';

export type KeyboardParts = {
  window: Pick<Window, 'addEventListener' | 'removeEventListener'>;
  document: Pick<Document, 'addEventListener' | 'removeEventListener' | 'visibilityState'>;
  /** Physical key code to switch. */
  bindings: ReadonlyMap<string, Switch>;
  /** A lost release is put this long before the next press, or clean-up would take the two for bounce. */
  bounceMs: Ms;
};

/**
 * Keys as switches; most foot-pedals are keyboards too. A press has the operating system's own time of the key event.
 * Each held key has its own entry: two people press at the same time.
 */
export class KeyboardSource implements SwitchSource {
  private readonly parts: KeyboardParts;
  private readonly held = new Set<string>();
  private hasFocus = true;

  constructor(parts: KeyboardParts) {
    this.parts = parts;
  }

  listen(listener: SwitchListener): () => void {
    const { window, document } = this.parts;
    const down = (event: KeyboardEvent) => this.keyDown(event, listener);
    const up = (event: KeyboardEvent) => this.keyUp(event, listener);
    const blur = (event: Event) => this.loseFocus(event.timeStamp, listener);
    const focus = (event: Event) => this.regainFocus(event.timeStamp, listener);
    const visibility = (event: Event) => {
      if (document.visibilityState === 'hidden') this.loseFocus(event.timeStamp, listener);
    };
    window.addEventListener('keydown', down, { capture: true });
    window.addEventListener('keyup', up, { capture: true });
    window.addEventListener('blur', blur);
    window.addEventListener('focus', focus);
    document.addEventListener('visibilitychange', visibility);
    return () => {
      window.removeEventListener('keydown', down, { capture: true });
      window.removeEventListener('keyup', up, { capture: true });
      window.removeEventListener('blur', blur);
      window.removeEventListener('focus', focus);
      document.removeEventListener('visibilitychange', visibility);
      this.held.clear();
    };
  }

  private keyDown(event: KeyboardEvent, listener: SwitchListener): void {
    const { code, timeStamp } = event;
    const name = this.parts.bindings.get(code);
    if (name === undefined) {
      if (!event.repeat && isThirdKey(event)) listener.onThirdKey(code, timeStamp);
      return;
    }
    event.preventDefault();
    // Auto-repeat says that a key is still down; a key held since before focus was lost starts no press.
    if (event.repeat) {
      listener.onRepeat?.(name, timeStamp);
      return;
    }
    if (!this.hasFocus) this.regainFocus(timeStamp, listener);
    if (this.held.has(code)) {
      listener.onEdge({
        switch: name,
        down: false,
        lost: true,
        timeStampMs: timeStamp - this.parts.bounceMs,
      });
    }
    this.held.add(code);
    listener.onEdge({ switch: name, down: true, timeStampMs: timeStamp });
  }

  private keyUp(event: KeyboardEvent, listener: SwitchListener): void {
    const name = this.parts.bindings.get(event.code);
    if (name === undefined) return;
    event.preventDefault();
    if (this.held.delete(event.code))
      listener.onEdge({ switch: name, down: false, timeStampMs: event.timeStamp });
    else listener.onLevel?.(name, false, event.timeStamp);
  }

  private loseFocus(timeStampMs: Ms, listener: SwitchListener): void {
    if (!this.hasFocus) return;
    this.hasFocus = false;
    for (const [code, name] of this.parts.bindings) {
      if (this.held.has(code)) listener.onEdge({ switch: name, down: false, lost: true, timeStampMs });
      listener.onLevel?.(name, null, timeStampMs);
    }
    this.held.clear();
    listener.onFocus(false, timeStampMs);
  }

  private regainFocus(timeStampMs: Ms, listener: SwitchListener): void {
    if (this.hasFocus) return;
    this.hasFocus = true;
    listener.onFocus(true, timeStampMs);
  }
}

/** A key that people may press by mistake for a switch; not one that works a button. */
function isThirdKey({ code, target, ctrlKey, altKey, metaKey }: KeyboardEvent): boolean {
  if (ctrlKey || altKey || metaKey) return false;
  if (code === 'Space' && target instanceof HTMLElement && target !== target.ownerDocument.body) return false;
  return instructorKeyOf(code) === null && !isWindowKey(code);
}
