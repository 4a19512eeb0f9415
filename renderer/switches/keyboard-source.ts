import { type InstructorKeys, KEYS_AS_AT_FIRST } from '../../machines/instructor-keys.ts';
import type { Switch } from '../../machines/journal.ts';
import type { Ms } from '../../machines/units.ts';
import { isInstructorsKey, isWindowKey } from '../adapters/key-uses.ts';
import { FOCUS_GRACE_MS, HEARD_WITHIN_MS, NO_OTHER_WINDOWS, type OtherWindows } from './other-windows.ts';
import type { SwitchListener, SwitchSource } from './switch-source.ts';

export type KeyboardParts = {
  window: Pick<Window, 'addEventListener' | 'removeEventListener'>;
  document: Pick<Document, 'addEventListener' | 'removeEventListener' | 'visibilityState' | 'hasFocus'>;
  /** Physical key code to switch. */
  bindings: ReadonlyMap<string, Switch>;
  /** A lost release is put this long before the next press, or clean-up would take the two for bounce. */
  bounceMs: Ms;
  others?: OtherWindows;
  /** Left out: as at first. */
  instructorKeys?: InstructorKeys;
};

/**
 * Keys as switches; most foot-pedals are keyboards too. A press has the operating system's own time of the key event.
 * Each held key has its own entry: two people press at the same time.
 *
 * Beside another window of the station, a press may go down in one and up in the other: every release is told, and what is down
 * is asked of `others`. The keyboard is lost only when no window has it; the window that had it last says so.
 */
export class KeyboardSource implements SwitchSource {
  private readonly parts: KeyboardParts;
  private readonly others: OtherWindows;
  private readonly held = new Set<string>();
  /** Keys whose release was given up for lost here: when it comes after all, it is not told. */
  private readonly lost = new Set<string>();
  private hasFocus = true;
  /** This window is the last one left, and does not have the focus. */
  private isOrphaned = false;
  /** When this window got the focus last. */
  private focusedMs: Ms = 0;
  private stopWaiting = (): void => undefined;

  constructor(parts: KeyboardParts) {
    this.parts = parts;
    this.others = parts.others ?? NO_OTHER_WINDOWS;
  }

  listen(listener: SwitchListener): () => void {
    const { window, document } = this.parts;
    if (this.others.isShared) this.hasFocus = document.hasFocus();
    this.focusedMs = this.others.now();
    const stopHearing = this.others.listen(() => this.hearOthers(listener));
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
    this.hearOthers(listener);
    return () => {
      stopHearing();
      this.stopWaiting();
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
      const { instructorKeys = KEYS_AS_AT_FIRST } = this.parts;
      if (!event.repeat && isThirdKey(event, instructorKeys)) listener.onThirdKey(code, timeStamp);
      return;
    }
    event.preventDefault();
    // Auto-repeat says that a key is still down; a key held since before focus was lost starts no press.
    if (event.repeat) {
      listener.onRepeat?.(name, timeStamp);
      return;
    }
    if (!this.hasFocus) this.regainFocus(timeStamp, listener);
    if (this.isHeld(code, name) && !this.mayBeOnTheWay(timeStamp)) {
      listener.onEdge({
        switch: name,
        down: false,
        lost: true,
        timeStampMs: timeStamp - this.parts.bounceMs,
      });
    }
    this.held.add(code);
    this.lost.delete(code);
    listener.onEdge({ switch: name, down: true, timeStampMs: timeStamp });
  }

  private keyUp(event: KeyboardEvent, listener: SwitchListener): void {
    const name = this.parts.bindings.get(event.code);
    if (name === undefined) return;
    event.preventDefault();
    const wasHeld = this.held.delete(event.code);
    const wasLost = this.lost.delete(event.code);
    // It may have gone down in the other window, or in this one before its page was loaded anew.
    const isElsewhere = this.others.isShared || this.others.isDown(name);
    if (!wasHeld && (wasLost || !isElsewhere)) listener.onLevel?.(name, false, event.timeStamp);
    else listener.onEdge({ switch: name, down: false, timeStampMs: event.timeStamp });
  }

  private loseFocus(timeStampMs: Ms, listener: SwitchListener): void {
    if (!this.hasFocus) return;
    this.hasFocus = false;
    this.others.sayFocus(false);
    if (this.others.isShared) this.waitForOthers(timeStampMs, listener);
    else this.loseKeyboard(timeStampMs, listener);
  }

  private loseKeyboard(timeStampMs: Ms, listener: SwitchListener): void {
    for (const [code, name] of this.parts.bindings) {
      if (this.isHeld(code, name)) {
        this.lost.add(code);
        listener.onEdge({ switch: name, down: false, lost: true, timeStampMs });
      }
      listener.onLevel?.(name, null, timeStampMs);
    }
    this.held.clear();
    listener.onFocus(false, timeStampMs);
  }

  private regainFocus(timeStampMs: Ms, listener: SwitchListener): void {
    if (this.hasFocus) return;
    this.hasFocus = true;
    this.focusedMs = timeStampMs;
    this.stopWaiting();
    this.others.sayFocus(true);
    if (!this.others.isShared || this.others.isFocusLost) listener.onFocus(true, timeStampMs);
  }

  private isHeld(code: string, name: Switch): boolean {
    if (this.others.isDown(name)) return true;
    return !this.others.isShared && this.held.has(code);
  }

  /** The release may have been seen by the window that had the focus until just now, and not be heard of here yet. */
  private mayBeOnTheWay(timeStampMs: Ms): boolean {
    return this.others.isShared && timeStampMs - this.focusedMs < HEARD_WITHIN_MS;
  }

  /** The focus went at a time: to our other window, or away? */
  private waitForOthers(sinceMs: Ms, listener: SwitchListener): void {
    this.stopWaiting();
    this.stopWaiting = this.others.wake(FOCUS_GRACE_MS, () => {
      if (!this.isKeyboardOurs && !this.others.isFocusLost) this.loseKeyboard(sinceMs, listener);
    });
  }

  private get isKeyboardOurs(): boolean {
    return this.hasFocus || this.others.haveOthersFocus;
  }

  private hearOthers(listener: SwitchListener): void {
    const { others } = this;
    if (!others.isShared) return;
    if (this.isKeyboardOurs) this.stopWaiting();
    // The other lost it in the moment in which it came here.
    if (this.hasFocus && others.isFocusLost) listener.onFocus(true, this.focusedMs);
    // The window that had it was closed or killed, and nobody else is there to say so.
    const isOrphaned = !this.isKeyboardOurs && !others.isFocusLost && others.isAlone;
    if (isOrphaned && !this.isOrphaned) this.waitForOthers(others.now(), listener);
    this.isOrphaned = isOrphaned;
  }
}

/** A key that people may press by mistake for a switch; not one that works a button. */
function isThirdKey(
  { code, target, ctrlKey, altKey, metaKey }: KeyboardEvent,
  instructorKeys: InstructorKeys,
): boolean {
  if (ctrlKey || altKey || metaKey) return false;
  if (code === 'Space' && target instanceof HTMLElement && target !== target.ownerDocument.body) return false;
  return !isInstructorsKey(code, instructorKeys) && !isWindowKey(code);
}
