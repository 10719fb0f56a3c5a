import type { Json } from './jsontext.ts';

interface Parsed {
  readonly text: string;
  readonly value: Json | undefined;
}

/** Newest first. While a plan is under way two texts are on the screen: the document's and the plan's. */
let kept: readonly Parsed[] = [];
const KEPT = 2;

/** The job file's value, parsed once per text; undefined where the text is not JSON. */
export function parsed(text: string): Json | undefined {
  const found = kept.find((k) => k.text === text) ?? { text, value: readJson(text) };
  if (kept[0] !== found) kept = [found, ...kept.filter((k) => k !== found)].slice(0, KEPT);
  return found.value;
}

function readJson(text: string): Json | undefined {
  try {
    return JSON.parse(text.charCodeAt(0) === 0xfeff ? text.slice(1) : text) as Json;
  } catch {
    return undefined;
  }
}
