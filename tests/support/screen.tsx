import { act, type ReactNode } from 'react';
import { createRoot, type Root } from 'react-dom/client';
import { onTestFinished } from 'vitest';

declare global {
  var IS_REACT_ACT_ENVIRONMENT: boolean | undefined;
}
globalThis.IS_REACT_ACT_ENVIRONMENT = true;

/** A screen in the test's document, found by what people see and press. */
export class Screen {
  readonly element: HTMLElement;
  private readonly root: Root;

  private constructor() {
    this.element = document.createElement('div');
    document.body.append(this.element);
    this.root = createRoot(this.element);
  }

  static async show(content: ReactNode): Promise<Screen> {
    const screen = new Screen();
    onTestFinished(async () => {
      await act(async () => screen.root.unmount());
      screen.element.remove();
    });
    await act(async () => screen.root.render(content));
    return screen;
  }

  get text(): string {
    return this.element.textContent ?? '';
  }

  /** The button with these words, its key's included. */
  button(words: string | RegExp): HTMLButtonElement {
    const found = [...this.element.querySelectorAll('button')].filter((button) => {
      const text = (button.textContent ?? '').trim();
      return typeof words === 'string' ? text === words : words.test(text);
    });
    const [button] = found;
    if (button === undefined || found.length > 1) throw new Error(`${found.length} buttons say ${words}`);
    return button;
  }

  /** The field or choice with this label. */
  field(label: string): HTMLInputElement {
    const found = [...this.element.querySelectorAll('label')].filter(
      (one) => one.textContent?.trim() === label,
    );
    const input = found.map((one) => one.querySelector('input')).find((one) => one !== null);
    if (input === undefined || input === null) throw new Error(`no field is labelled ${label}`);
    return input;
  }

  async click(element: HTMLElement): Promise<void> {
    await act(async () => element.click());
  }

  async type(label: string, text: string): Promise<void> {
    const input = this.textField(label);
    await act(async () => {
      // React watches the element's own setter: the prototype's reaches past it, as typing does.
      Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')?.set?.call(input, text);
      input.dispatchEvent(new Event('input', { bubbles: true }));
    });
  }

  /** A key going down and up in the window, or in an element. */
  async press(code: string, target: EventTarget = window): Promise<void> {
    await act(async () => {
      for (const type of ['keydown', 'keyup']) {
        const key = /^Key[A-Z]$/.test(code) ? code.slice(3).toLowerCase() : code;
        target.dispatchEvent(new KeyboardEvent(type, { code, key, bubbles: true, cancelable: true }));
      }
    });
  }

  /** Does something that screens hear of, and lets what was sent come back. */
  async during(work: () => void): Promise<void> {
    await act(async () => work());
    await this.settle();
  }

  /** Lets what was sent come back. */
  async settle(): Promise<void> {
    await act(async () => {
      for (let turn = 0; turn < 20; turn += 1) await Promise.resolve();
    });
  }

  private textField(label: string): HTMLInputElement {
    const found = [...this.element.querySelectorAll('label')].find(
      (one) => one.querySelector('input[type="text"]') !== null && one.textContent?.trim() === label,
    );
    const input = found?.querySelector('input');
    if (input === undefined || input === null) throw new Error(`no text field is labelled ${label}`);
    return input;
  }
}
