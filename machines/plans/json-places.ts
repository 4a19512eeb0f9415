/** Where in a JSON text each value stands, and where the text stops being JSON. `JSON.parse` tells neither. */
export type JsonPlaces =
  | { ok: true; lineOf: (path: readonly (string | number)[]) => number }
  | { ok: false; line: number };

/** Deeper than this is nothing of ours, and a scanner that calls itself must end. */
const DEEPEST = 16;
const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
/** All from the space on but `"` and `\`: JSON forbids what comes before the space. */
const STRING = /"(?:[ !#-[\]-\uffff]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/y;
const WORD = /true|false|null/y;
const SPACE = /[ \t\r\n]*/y;

/** Scans the text; never throws. Lines count from 1. A path that is not there has the line of the nearest part that is. */
export function findPlaces(text: string): JsonPlaces {
  const scanner = new Scanner(text);
  const isWhole = scanner.value('', 0) && scanner.isAtEnd();
  if (!isWhole) return { ok: false, line: lineAt(text, scanner.at) };
  return {
    ok: true,
    lineOf: (path) => {
      for (let length = path.length; length > 0; length -= 1) {
        const at = scanner.places.get(keyOf(path.slice(0, length)));
        if (at !== undefined) return lineAt(text, at);
      }
      return lineAt(text, scanner.places.get('') ?? 0);
    },
  };
}

class Scanner {
  readonly places = new Map<string, number>();
  at = 0;
  private readonly text: string;

  constructor(text: string) {
    this.text = text;
  }

  /** Scans one value; false where it is none. `key` is its path, as text. */
  value(key: string, depth: number): boolean {
    this.take(SPACE);
    if (!this.places.has(key)) this.places.set(key, this.at);
    if (depth > DEEPEST) return false;
    const first = this.text[this.at];
    if (first === '{') return this.all('{', '}', () => this.member(key, depth));
    if (first === '[') {
      let index = 0;
      return this.all('[', ']', () => this.value(`${key}/${index++}`, depth + 1));
    }
    return this.take(STRING) || this.take(NUMBER) || this.take(WORD);
  }

  isAtEnd(): boolean {
    this.take(SPACE);
    return this.at === this.text.length;
  }

  private member(key: string, depth: number): boolean {
    this.take(SPACE);
    const from = this.at;
    if (!this.take(STRING)) return false;
    const name: unknown = JSON.parse(this.text.slice(from, this.at));
    this.take(SPACE);
    // The line of a member is that of its name, which is what people look for. Of two with one name, the last counts.
    this.places.set(`${key}/${String(name)}`, from);
    return this.sign(':') && this.value(`${key}/${String(name)}`, depth + 1);
  }

  private all(open: string, close: string, one: () => boolean): boolean {
    if (!this.sign(open)) return false;
    this.take(SPACE);
    if (this.sign(close)) return true;
    for (;;) {
      if (!one()) return false;
      this.take(SPACE);
      if (this.sign(close)) return true;
      if (!this.sign(',')) return false;
    }
  }

  private sign(sign: string): boolean {
    if (this.text[this.at] !== sign) return false;
    this.at += 1;
    return true;
  }

  private take(pattern: RegExp): boolean {
    pattern.lastIndex = this.at;
    const found = pattern.exec(this.text);
    if (found === null) return false;
    this.at = pattern.lastIndex;
    return true;
  }
}

function keyOf(path: readonly (string | number)[]): string {
  return path.map((part) => `/${part}`).join('');
}

function lineAt(text: string, at: number): number {
  return text.slice(0, at).split('\n').length;
}
