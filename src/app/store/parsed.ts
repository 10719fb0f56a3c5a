import type { Json } from './jsontext.ts';

let lastText: string | undefined;
let lastValue: Json | undefined;

/** The job file's value, parsed once per text; undefined where the text is not JSON. */
export function parsed(text: string): Json | undefined {
  if (text === lastText) return lastValue;
  lastText = text;
  try {
    lastValue = JSON.parse(text.charCodeAt(0) === 0xfeff ? text.slice(1) : text) as Json;
  } catch {
    lastValue = undefined;
  }
  return lastValue;
}
