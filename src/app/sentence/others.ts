import { readQuantity } from '../../job/quantity.ts';
import { type Kind, unitCalled } from '../../job/units.ts';
import { type Json, pathOf, setIn } from '../store/jsontext.ts';
import type { Group, Piece } from './pieces.ts';
import { unitIn } from './stepping.ts';

/** Parts of a job that have no sentences of their own, by where they begin; the path of a fitting's part ends in it. */
const PARTS: readonly { readonly id: string; readonly title: string; readonly at: (fitting: number) => string }[] = [
  { id: 'lift', title: 'the movement of the load', at: () => 'lift' },
  { id: 'asBuilt', title: 'as it was built', at: (i) => `fittings[${i}].asBuilt` },
  { id: 'fittingRest', title: 'more on this lug', at: (i) => `fittings[${i}]` },
  { id: 'rest', title: 'everything else', at: () => '' },
];

const spaced = (key: string | number): string =>
  typeof key === 'number' ? `no. ${key + 1}` : key.replace(/([a-z])([A-Z])/g, '$1 $2').toLowerCase();

/** Every field of the file that no sentence has reached, so that nothing in a job is out of hand's reach. */
export function otherFields(job: Json, fitting: number, reached: ReadonlySet<string>): Group[] {
  const taken = new Set<string>();
  return PARTS.flatMap(({ id, title, at }) => {
    const start = at(fitting);
    const sentences: Piece[][] = [];
    const walk = (value: Json, path: string): void => {
      if (typeof value !== 'object' || value === null) return;
      const own: Piece[] = [];
      const before = sentences.length;
      for (const [key, inner] of Object.entries(value)) {
        const below = Array.isArray(value) ? `${path}[${key}]` : path === '' ? key : `${path}.${key}`;
        if (typeof inner === 'object' && inner !== null) {
          if (!covered(below, reached)) walk(inner, below);
        } else if (!covered(below, reached) && !taken.has(below)) {
          taken.add(below);
          if (own.length > 0) own.push(', ');
          if (!Array.isArray(value)) own.push(`${spaced(key)} `);
          own.push(pieceFor(inner, below));
        }
      }
      // What a thing is itself comes before its parts, and those in the order of the file.
      if (own.length > 0) sentences.splice(before, 0, [`${nameOf(path, start)} `, ...own, '.']);
    };
    walk(valueAt(job, start), start);
    return sentences.length === 0 ? [] : [{ id, title, folded: true, sentences }];
  });
}

const ELSEWHERE = new Set(['format', 'version', 'title', 'display']);

/** Whether a sentence reaches a path, or something it is part of. Other fittings have their own statement. */
function covered(path: string, reached: ReadonlySet<string>): boolean {
  if (ELSEWHERE.has(path) || path === 'ship.hull') return true;
  for (const r of reached) if (path === r) return true;
  const other = /^fittings\[(\d+)\]/.exec(path);
  return other !== null && ![...reached].some((r) => r.startsWith(`fittings[${other[1]}]`));
}

function valueAt(job: Json, path: string): Json {
  let at: Json | undefined = job;
  for (const key of pathOf(path)) at = (at as Record<string | number, Json> | undefined)?.[key];
  return at ?? null;
}

function nameOf(path: string, start: string): string {
  const rest = path.slice(start.length).replace(/^\./, '');
  const words = pathOf(rest).map(spaced).join(', ');
  return words === '' ? 'It has' : `${(words[0] ?? '').toUpperCase()}${words.slice(1)}:`;
}

function pieceFor(value: string | number | boolean | null, path: string): Piece {
  const label = pathOf(path).map(spaced).join(', ');
  if (typeof value === 'boolean')
    return {
      choice: path,
      label,
      value: String(value),
      options: [
        { value: 'true', label: 'yes' },
        { value: 'false', label: 'no' },
      ],
      choose: (text, chosen) => setIn(text, pathOf(path), chosen === 'true'),
    };
  if (typeof value === 'number') return { number: path, label };
  const kind = kindOf(value ?? '');
  return kind === undefined ? { words: path, label } : { quantity: path, kind, label, clear: true };
}

function kindOf(text: string): Kind | undefined {
  const spelled = unitIn(text)?.spelled;
  const kind = spelled === undefined ? undefined : unitCalled(spelled)?.kind;
  return kind !== undefined && readQuantity(text, kind).ok ? kind : undefined;
}
