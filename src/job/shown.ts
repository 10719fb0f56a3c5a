/** Longest piece of foreign text that is repeated in a message. */
const MOST = 60;

/**
 * A value from a file as it is shown in a fault: one line, in quotes where it is text, cut where it is long, with every
 * character escaped that does not print (controls, direction marks, separators, lone surrogates).
 */
export function shown(value: unknown): string {
  switch (typeof value) {
    case 'undefined':
      return 'nothing';
    case 'string':
      return quoted(value);
    case 'number':
      return Number.isFinite(value) ? String(value) : 'a number too large to hold';
    case 'boolean':
      return String(value);
    default:
      if (value === null) return 'null';
      if (Array.isArray(value)) return shownList(value);
      return 'a group of fields';
  }
}

function shownList(list: readonly unknown[]): string {
  if (list.length === 0) return 'an empty list';
  const short = list.length <= 4 && list.every((item) => typeof item !== 'object' || item === null);
  return short ? `[${list.map(shown).join(', ')}]` : `a list of ${list.length}`;
}

/** Text in double quotes, escaped and cut as in `shown`. */
export function quoted(text: string): string {
  const characters = [...text.slice(0, 2 * MOST)];
  const cut = text.length > 2 * MOST || characters.length > MOST;
  return escaped(JSON.stringify(characters.slice(0, MOST).join('') + (cut ? '…' : '')));
}

/** Escapes what does not print or turns the reading direction; leaves all else as it is. */
export function escaped(text: string): string {
  return text.replaceAll(/[\p{C}\p{Zl}\p{Zp}\u061C\u200E\u200F\u202A-\u202E\u2066-\u2069]/gu, (c) => {
    const code = c.codePointAt(0) ?? 0;
    return code > 0xffff ? `\\u{${code.toString(16)}}` : `\\u${code.toString(16).padStart(4, '0')}`;
  });
}

/** `fittings[1].lug.foot`; a name that is no plain word stands in brackets and quotes. */
export function pathText(path: readonly PropertyKey[]): string {
  let text = '';
  for (const step of path) {
    if (typeof step === 'number') text += `[${step}]`;
    else if (/^[\p{L}_$][\p{L}\p{N}_$-]*$/u.test(String(step)) && String(step).length <= MOST)
      text += text === '' ? String(step) : `.${String(step)}`;
    else text += `[${quoted(String(step))}]`;
  }
  return text;
}
