/**
 * Edits inside the text of a JSON file that leave every other byte as it was: what a person laid out by hand, the way
 * numbers were written and the order of fields survive an edit of one figure. Plain text work, no units.
 *
 * The text must be valid JSON (`JSON.parse` decides that); these functions throw where the path does not exist.
 */
export type Path = readonly (string | number)[];
export type Json = string | number | boolean | null | Json[] | { [key: string]: Json };

interface Span {
  readonly from: number;
  readonly to: number;
}

interface Member extends Span {
  /** Where the key (or, in an array, the value) begins. */
  readonly start: number;
  readonly key: string | number;
}

const SPACE = /\s/;

const skipSpace = (text: string, i: number): number => {
  let at = i;
  while (at < text.length && SPACE.test(text[at] as string)) at++;
  return at;
};

function endOfString(text: string, i: number): number {
  let at = i + 1;
  while (text[at] !== '"') {
    if (at >= text.length) throw new SyntaxError('text ends inside a string');
    at += text[at] === '\\' ? 2 : 1;
  }
  return at + 1;
}

function endOfValue(text: string, i: number): number {
  const first = text[i];
  if (first === '"') return endOfString(text, i);
  if (first === '{' || first === '[') {
    let depth = 0;
    for (let at = i; at < text.length; at++) {
      const c = text[at];
      if (c === '"') at = endOfString(text, at) - 1;
      else if (c === '{' || c === '[') depth++;
      else if (c === '}' || c === ']') {
        depth--;
        if (depth === 0) return at + 1;
      }
    }
    throw new SyntaxError('text ends inside a value');
  }
  let at = i;
  while (at < text.length && !/[\s,\]}]/.test(text[at] as string)) at++;
  return at;
}

/** Members of the object or array whose text begins at `i`. */
function members(text: string, i: number): Member[] {
  const found: Member[] = [];
  const isArray = text[i] === '[';
  let at = skipSpace(text, i + 1);
  while (at < text.length && text[at] !== '}' && text[at] !== ']') {
    const start = at;
    let key: string | number = found.length;
    if (!isArray) {
      const end = endOfString(text, at);
      key = JSON.parse(text.slice(at, end)) as string;
      at = skipSpace(text, skipSpace(text, end) + 1);
    }
    const to = endOfValue(text, at);
    found.push({ start, key, from: at, to });
    at = skipSpace(text, to);
    if (text[at] === ',') at = skipSpace(text, at + 1);
  }
  return found;
}

const rootAt = (text: string): number => skipSpace(text, text.charCodeAt(0) === 0xfeff ? 1 : 0);

/** Where the value at the path stands in the text, or undefined where the path leads nowhere. Last of equal keys wins. */
export function spanOf(text: string, path: Path): Span | undefined {
  let from = rootAt(text);
  let to = endOfValue(text, from);
  for (const key of path) {
    if (text[from] !== '{' && text[from] !== '[') return undefined;
    const hit = members(text, from).findLast((m) => m.key === key);
    if (hit === undefined) return undefined;
    from = hit.from;
    to = hit.to;
  }
  return { from, to };
}

/** White space in front of the line on which position `i` stands. */
function indentAt(text: string, i: number): string {
  const line = text.lastIndexOf('\n', i - 1) + 1;
  return /^[ \t]*/.exec(text.slice(line))?.[0] ?? '';
}

/** One step of indentation as the file itself uses it; two blanks where it has none. */
function stepOf(text: string): string {
  return /\n([ \t]+)"/.exec(text)?.[1] ?? '  ';
}

const lineBreakOf = (text: string): string => (text.includes('\r\n') ? '\r\n' : '\n');

function written(value: Json, text: string, indent: string): string {
  return JSON.stringify(value, null, stepOf(text)).replaceAll('\n', lineBreakOf(text) + indent);
}

const isShort = (value: Json): boolean => typeof value !== 'object' || value === null;

/** Sets the value at the path; objects that are missing on the way are made. Everything else keeps its bytes. */
export function setIn(text: string, path: Path, value: Json): string {
  const span = spanOf(text, path);
  if (span !== undefined) {
    const put = isShort(value) ? JSON.stringify(value) : written(value, text, indentAt(text, span.from));
    return text.slice(0, span.from) + put + text.slice(span.to);
  }
  const key = path.at(-1);
  if (key === undefined) throw new RangeError('no place');
  const parentPath = path.slice(0, -1);
  const parent = spanOf(text, parentPath);
  if (parent === undefined) return setIn(text, parentPath, { [String(key)]: value });
  return insert(text, parent, typeof key === 'string' ? key : undefined, value);
}

/** Puts a value at the end of the array at the path. */
export function append(text: string, path: Path, value: Json): string {
  const span = spanOf(text, path);
  if (span === undefined) return setIn(text, path, [value]);
  return insert(text, span, undefined, value);
}

function insert(text: string, parent: Span, key: string | undefined, value: Json): string {
  const list = members(text, parent.from);
  const last = list.at(-1);
  const label = key === undefined ? '' : `${JSON.stringify(key)}: `;
  if (last === undefined) {
    const outer = indentAt(text, parent.from);
    const inner = outer + stepOf(text);
    const nl = lineBreakOf(text);
    const body = `${nl}${inner}${label}${written(value, text, inner)}${nl}${outer}`;
    return text.slice(0, parent.from + 1) + body + text.slice(parent.to - 1);
  }
  // As the neighbour stands: on a line of its own, or on the same line.
  const between = text.slice(list.length > 1 ? (list.at(-2) as Member).to : parent.from + 1, last.start);
  const ownLine = between.includes('\n');
  const indent = indentAt(text, last.start);
  const lead = ownLine ? lineBreakOf(text) + indent : ' ';
  const put = ownLine ? written(value, text, indent) : JSON.stringify(value);
  return `${text.slice(0, last.to)},${lead}${label}${put}${text.slice(last.to)}`;
}

/** Takes the member at the path out, with its comma. A path that leads nowhere leaves the text as it is. */
export function removeIn(text: string, path: Path): string {
  const key = path.at(-1);
  const parent = spanOf(text, path.slice(0, -1));
  if (key === undefined || parent === undefined) return text;
  const list = members(text, parent.from);
  const index = list.findLastIndex((m) => m.key === key);
  const hit = list[index];
  if (hit === undefined) return text;
  const next = list[index + 1];
  if (next !== undefined) return text.slice(0, hit.start) + text.slice(next.start);
  const before = list[index - 1];
  if (before !== undefined) return text.slice(0, before.to) + text.slice(hit.to);
  return text.slice(0, parent.from + 1) + text.slice(parent.to - 1);
}

/** The value at a path of parsed JSON, or undefined. */
export function valueIn(root: Json | undefined, path: Path): Json | undefined {
  let at: Json | undefined = root;
  for (const key of path) {
    if (at === undefined || at === null || typeof at !== 'object') return undefined;
    at = (at as Record<string | number, Json>)[key];
  }
  return at;
}

/** `fittings[1].lug.foot` as keys, and back. */
export function pathOf(written: string): Path {
  const keys: (string | number)[] = [];
  for (const m of written.matchAll(/([^.[\]]+)|\[(\d+)\]/g))
    keys.push(m[2] === undefined ? (m[1] as string) : Number(m[2]));
  return keys;
}

export const writtenPath = (path: Path): string =>
  path.map((k, i) => (typeof k === 'number' ? `[${k}]` : i === 0 ? k : `.${k}`)).join('');
