/** A JSON text as a value, or where and how it breaks the rules. Lines and columns count from 1. */
export type JsonReading =
  | { readonly ok: true; readonly value: unknown }
  | {
      readonly ok: false;
      readonly line: number;
      readonly column: number;
      readonly found: string;
      readonly expected: string;
    };

/** A job file is a handful of levels deep; deeper text is not one. */
const MOST_LEVELS = 40;

/**
 * Reads JSON (RFC 8259) and says where it fails. Unlike `JSON.parse` it refuses a name that stands twice in one object:
 * the first figure would be dropped without a word. A byte order mark at the start is passed over.
 */
export function readJson(text: string): JsonReading {
  const reader = new Reader(text);
  try {
    return { ok: true, value: reader.document() };
  } catch (error) {
    if (!(error instanceof Stop)) throw error;
    const before = text.slice(0, error.at).split(/\r\n|\r|\n/);
    const column = (before.at(-1) ?? '').replace(/^\uFEFF/, '').length + 1;
    return { ok: false, line: before.length, column, found: error.found, expected: error.expected };
  }
}

class Stop {
  readonly at: number;
  readonly found: string;
  readonly expected: string;
  constructor(at: number, found: string, expected: string) {
    this.at = at;
    this.found = found;
    this.expected = expected;
  }
}

const SPACE = /[ \t\r\n]*/y;
const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
// biome-ignore lint/suspicious/noControlCharactersInRegex: a JSON string may not hold bare control characters
const STRING = /"[^"\\\u0000-\u001f]*(?:\\(?:["\\/bfnrt]|u[\da-fA-F]{4})[^"\\\u0000-\u001f]*)*"/y;
const WORD = /true|false|null/y;

class Reader {
  private at = 0;
  private level = 0;
  private readonly text: string;

  constructor(text: string) {
    this.text = text;
    if (text.startsWith('\uFEFF')) this.at = 1;
  }

  document(): unknown {
    const value = this.value();
    this.space();
    if (this.at < this.text.length) this.stop('the end of the file');
    return value;
  }

  private value(): unknown {
    this.space();
    const first = this.text[this.at];
    if (first === '{') return this.object();
    if (first === '[') return this.array();
    if (first === '"') return this.string();
    const number = this.take(NUMBER);
    if (number !== undefined) return Number(number);
    const word = this.take(WORD);
    return word === undefined ? this.stop('a value') : JSON.parse(word);
  }

  private object(): unknown {
    const object: Record<string, unknown> = {};
    this.descend();
    this.space();
    if (this.takeMark('}')) return object;
    for (;;) {
      this.space();
      const start = this.at;
      const name = this.string('the name of a field in double quotes');
      if (Object.hasOwn(object, name)) {
        throw new Stop(start, `${this.text.slice(start, this.at)} a second time`, 'each field once');
      }
      this.space();
      if (!this.takeMark(':')) this.stop('":"');
      const value = this.value();
      // Not by assignment: `__proto__` is a name like any other here.
      Object.defineProperty(object, name, { value, enumerable: true, writable: true, configurable: true });
      this.space();
      if (this.takeMark('}')) return object;
      if (!this.takeMark(',')) this.stop('"," or "}"');
    }
  }

  private array(): unknown {
    const array: unknown[] = [];
    this.descend();
    this.space();
    if (this.takeMark(']')) return array;
    for (;;) {
      array.push(this.value());
      this.space();
      if (this.takeMark(']')) return array;
      if (!this.takeMark(',')) this.stop('"," or "]"');
    }
  }

  private string(expected = 'a text in double quotes, with \\" for a quote in it and \\n for a new line'): string {
    const string = this.take(STRING);
    return string === undefined ? this.stop(expected) : JSON.parse(string);
  }

  private descend(): void {
    this.level += 1;
    if (this.level > MOST_LEVELS)
      throw new Stop(this.at, `a level ${this.level} deep`, `at most ${MOST_LEVELS} levels`);
    this.at += 1;
  }

  private takeMark(mark: '}' | ']' | ',' | ':'): boolean {
    if (this.text[this.at] !== mark) return false;
    this.at += 1;
    if (mark === '}' || mark === ']') this.level -= 1;
    return true;
  }

  private take(pattern: RegExp): string | undefined {
    pattern.lastIndex = this.at;
    const found = pattern.exec(this.text)?.[0];
    if (found !== undefined) this.at += found.length;
    return found;
  }

  private space(): void {
    this.take(SPACE);
  }

  private stop(expected: string): never {
    const next = this.text.codePointAt(this.at);
    throw new Stop(
      this.at,
      next === undefined ? 'the end of the file' : JSON.stringify(String.fromCodePoint(next)),
      expected,
    );
  }
}
