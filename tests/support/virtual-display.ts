import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';

/** What real key events need: a display of their own and something that presses keys on it. */
const PROGRAMS = ['Xvfb', 'xdotool', 'setxkbmap', 'xkbcomp'] as const;

/** The programs that are not on this computer; none when real keys can be pressed. */
export function missingPrograms(): string[] {
  const folders = (process.env.PATH ?? '').split(':');
  return PROGRAMS.filter((name) => !folders.some((folder) => existsSync(`${folder}/${name}`)));
}

/** X's own numbers of physical keys, by the browser's code for the same key. */
const KEYCODES: Record<string, number> = {
  Digit1: 10,
  Digit9: 18,
  Tab: 23,
  KeyQ: 24,
  Enter: 36,
  Semicolon: 47,
  KeyX: 53,
  KeyM: 58,
  Period: 60,
  F2: 68,
};

/** An X display in memory, on which keys go down and up as a keyboard's do: through the X server, with its auto-repeat. */
export class VirtualDisplay {
  readonly name: string;
  private readonly server: ChildProcess;

  private constructor(name: string, server: ChildProcess) {
    this.name = name;
    this.server = server;
  }

  static async start(): Promise<VirtualDisplay> {
    const server = spawn(
      'Xvfb',
      ['-displayfd', '1', '-screen', '0', '1280x800x24', '-nolisten', 'tcp', '-noreset'],
      {
        stdio: ['ignore', 'pipe', 'ignore'],
      },
    );
    const number = await new Promise<string>((resolve, reject) => {
      server.once('error', reject);
      server.once('exit', (code) => reject(new Error(`Xvfb ended with ${code}`)));
      server.stdout?.once('data', (data: Buffer) => resolve(data.toString().trim()));
    });
    return new VirtualDisplay(`:${number}`, server);
  }

  stop(): void {
    this.server.kill();
  }

  /** `us`, `fr`: what the keys print; where they are stays. */
  setLayout(layout: string): void {
    this.run('setxkbmap', layout);
  }

  down(code: string): void {
    this.run('xdotool', 'keydown', keycodeOf(code));
  }
  up(code: string): void {
    this.run('xdotool', 'keyup', keycodeOf(code));
  }
  tap(code: string): void {
    this.down(code);
    this.up(code);
  }

  type(text: string): void {
    this.run('xdotool', 'type', '--delay', '20', text);
  }

  /** The windows whose title has these words; X gives them numbers. */
  windowsTitled(words: string): string[] {
    try {
      return this.run('xdotool', 'search', '--onlyvisible', '--name', words).split('\n').filter(Boolean);
    } catch {
      return [];
    }
  }

  /** There is no window manager: the focus is where it is put. */
  focus(window: string): void {
    this.run('xdotool', 'windowfocus', '--sync', window);
  }

  private run(program: string, ...words: string[]): string {
    return execFileSync(program, words, {
      env: { ...process.env, DISPLAY: this.name },
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'pipe'],
    });
  }
}

function keycodeOf(code: string): string {
  const keycode = KEYCODES[code];
  if (keycode === undefined) throw new Error(`no keycode is known for ${code}`);
  return String(keycode);
}
