import { readQuantity } from '../../job/quantity.ts';
import type { Display } from '../../job/types.ts';
import { completed } from '../sentence/stepping.ts';
import { append, type Json, type Path, removeIn, setIn, valueIn } from '../store/jsontext.ts';
import { spokenFigure } from './spoken.ts';

/**
 * What is asked of the diver, in the order in which a diver reads it, and where each answer goes in the job file. A pair
 * (a mark and what was read there) is one edit of the job; so is a figure that stands alone.
 */
export type Course = 'shell' | 'fitup';
export type Part = 'tape' | 'bar' | 'slope' | 'face' | 'foot' | 'turned' | 'feelers';

export const PARTS: Readonly<Record<Course, readonly Part[]>> = {
  shell: ['tape', 'bar', 'slope'],
  fitup: ['face', 'foot', 'turned', 'feelers'],
};

/** Words for the lug's faces and ends, as a diver would say them; none where nothing is planned yet. */
export type Names = Readonly<Record<'face-' | 'face+' | 'end-' | 'end+', string>>;

/** One of the two ways in which a figure can point: said in words, never as a sign. The first is plus. */
export interface Way {
  /** The letter that may be typed behind the figure. */
  readonly key: string;
  readonly word: string;
}
export type Ways = readonly [Way, Way];

/** Places along a list that are read in pairs: how the job file calls them. */
interface Pairs {
  readonly at: Path;
  readonly mark: string;
  readonly value: string;
}

export function pairsOf(part: Part, fitting: number): Pairs | undefined {
  switch (part) {
    case 'tape':
      return { at: ['ship', 'hull', 'girth'], mark: 'at', value: 'slope' };
    case 'bar':
      return { at: ['ship', 'hull', 'fore', 'gaps'], mark: 'at', value: 'gap' };
    case 'feelers':
      return { at: ['fittings', fitting, 'asBuilt', 'gaps'], mark: 's', value: 'gap' };
    default:
      return undefined;
  }
}

const way = (key: string, word: string): Way => ({ key, word });
const lead = (name: string): string => name.charAt(0).toLowerCase();

/** The ways of a part's mark and of its value; undefined where a figure has no direction. */
export function waysOf(part: Part, step: 'mark' | 'value', names: Names | undefined): Ways | undefined {
  if (step === 'mark') {
    if (part === 'bar') return [way('f', 'forward of the middle'), way('a', 'aft of the middle')];
    if (part === 'tape') return [way('o', 'outboard of the zero'), way('i', 'inboard of the zero')];
    return undefined;
  }
  switch (part) {
    case 'tape':
      return [way('r', 'rising outboard'), way('f', 'falling outboard')];
    case 'slope':
      return [way('f', 'forward end higher'), way('a', 'aft end higher')];
    case 'face': {
      const [plus, minus] = [names?.['face+'] ?? 'face+', names?.['face-'] ?? 'face-'];
      return [way(lead(plus), `${plus} looks up`), way(lead(minus), `${minus} looks up`)];
    }
    case 'foot': {
      const [plus, minus] = [names?.['end+'] ?? 'end+', names?.['end-'] ?? 'end-'];
      return [way(lead(plus), `${plus} higher`), way(lead(minus), `${minus} higher`)];
    }
    case 'turned': {
      // Right-handed about the stem B, C = A x B: A turned a little becomes A + angle (B x A) = A - angle C.
      const [plus, minus] = [names?.['face-'] ?? 'face-', names?.['face+'] ?? 'face+'];
      const end = names?.['end+'] ?? 'end+';
      return [
        way(lead(plus), `${end} towards the ${plus.replace(/ side$/, '')}`),
        way(lead(minus), `${end} towards the ${minus.replace(/ side$/, '')}`),
      ];
    }
    default:
      return undefined;
  }
}

export const kindOf = (part: Part, step: 'mark' | 'value'): 'length' | 'angle' =>
  step === 'mark' || part === 'bar' || part === 'feelers' ? 'length' : 'angle';

/** A figure as it was understood: without its sign, and which way it points. `sign` 0: nobody has said yet. */
export interface Entry {
  readonly text: string;
  readonly sign: 1 | -1 | 0;
  /** Internal units, with the sign. */
  readonly value: number;
}

export type Understood = { readonly ok: true; readonly entry: Entry } | { readonly ok: false; readonly why: string };

/** Greatest figures, degrees: past these it is no reading of this kind. */
const RIGHT_ANGLE = Math.PI / 2;

/**
 * What was typed, with the job's unit where it has none: `14.5`, `14.5 r`, `-14.5`, `12 1/8`, `350 mm`. A letter behind the
 * figure, a sign before it, or `chosen` says which way; a figure of nothing needs none.
 */
export function understand(
  typed: string,
  part: Part,
  step: 'mark' | 'value',
  { ways, chosen, like, display }: { ways: Ways | undefined; chosen: 1 | -1 | 0; like: string; display: Display },
): Understood {
  const kind = kindOf(part, step);
  let text = typed.trim().replaceAll('\u2212', '-');
  let sign: 1 | -1 | 0 = ways === undefined ? 1 : chosen;
  const letter = /(?<=[\d\s])([a-z])$/i.exec(text)?.[1]?.toLowerCase();
  const index = ways?.findIndex((w) => w.key === letter) ?? -1;
  if (index >= 0) {
    sign = index === 0 ? 1 : -1;
    text = text.slice(0, -1).trim();
  }
  if (/^[-+]/.test(text)) {
    if (ways === undefined) return { ok: false, why: 'a figure without a sign: a gap is never less than nothing' };
    if (index < 0) sign = text.startsWith('-') ? -1 : 1;
    text = text.slice(1).trim();
  }
  const whole = completed(text, unitFor(like, kind, display));
  const reading = readQuantity(whole, kind);
  if (!reading.ok) return { ok: false, why: `“${typed.trim()}” was not understood: expected ${reading.expected}` };
  const { value } = reading;
  const most = part === 'tape' ? 2 * RIGHT_ANGLE : RIGHT_ANGLE;
  if (kind === 'angle' && (part === 'tape' ? value > most : value >= most))
    return { ok: false, why: `an angle ${part === 'tape' ? 'up to 180' : 'under 90'} degrees` };
  if (value === 0) sign = 1;
  // On a tape, outboard of its zero is what a bare figure means.
  if (part === 'tape' && step === 'mark' && sign === 0) sign = 1;
  return { ok: true, entry: { text: whole, sign, value: sign === -1 ? -value : value } };
}

const unitFor = (like: string, kind: 'length' | 'angle', display: Display): string =>
  kind === 'angle' ? '0 deg' : like !== '' ? like : display === 'us' ? '0 in' : '0 mm';

/** As the job file writes it. */
export const writtenEntry = ({ text, sign }: Entry): string => (sign === -1 ? `-${text}` : text);

/** A figure of the job file taken apart again. */
export function entryIn(written: string, kind: 'length' | 'angle'): Entry {
  const text = written.trim().replaceAll('\u2212', '-');
  const reading = readQuantity(text, kind);
  const negative = text.startsWith('-');
  return {
    text: text.replace(/^[-+]\s*/, ''),
    sign: negative ? -1 : 1,
    value: reading.ok ? reading.value : Number.NaN,
  };
}

/** One answer as it stands in the job. */
export interface Taken {
  readonly part: Part;
  /** Place in its list; 0 for a figure that stands alone. */
  readonly index: number;
  readonly mark: Entry | null;
  readonly value: Entry;
}

/** What has been taken of a part so far, in the order in which it was read. */
export function takenIn(job: Json | undefined, part: Part, fitting: number): Taken[] {
  const pairs = pairsOf(part, fitting);
  if (pairs !== undefined) {
    const list = valueIn(job, pairs.at);
    if (!Array.isArray(list)) return [];
    return list.flatMap((row, index) => {
      const mark = valueIn(row, [pairs.mark]);
      const value = valueIn(row, [pairs.value]);
      if (typeof mark !== 'string' || typeof value !== 'string') return [];
      return [{ part, index, mark: entryIn(mark, 'length'), value: entryIn(value, kindOf(part, 'value')) }];
    });
  }
  const single = singleIn(job, part, fitting);
  return single === undefined ? [] : [{ part, index: 0, mark: null, value: single }];
}

function singleIn(job: Json | undefined, part: Part, fitting: number): Entry | undefined {
  const built: Path = ['fittings', fitting, 'asBuilt'];
  const figure = (path: Path, plus?: boolean): Entry | undefined => {
    const written = valueIn(job, path);
    if (typeof written !== 'string') return undefined;
    const entry = entryIn(written, 'angle');
    return plus === false ? { ...entry, sign: -1, value: -entry.value } : entry;
  };
  switch (part) {
    case 'slope':
      return figure(['ship', 'hull', 'fore', 'slope']);
    case 'turned':
      return figure([...built, 'turned']);
    case 'face':
      return figure([...built, 'face', 'fromPlumb'], valueIn(job, [...built, 'face', 'looksUp']) !== 'face-');
    case 'foot':
      return figure([...built, 'foot', 'fromLevel'], valueIn(job, [...built, 'foot', 'higher']) !== 'end-');
    default:
      return undefined;
  }
}

/** The job's text with one answer taken; `index`: in place of an earlier one. */
export function withAnswer(
  text: string,
  part: Part,
  fitting: number,
  mark: Entry | null,
  value: Entry,
  index?: number,
): string {
  const pairs = pairsOf(part, fitting);
  if (pairs !== undefined) {
    if (mark === null) throw new RangeError('a pair without its mark');
    if (index === undefined)
      return append(text, pairs.at, { [pairs.mark]: writtenEntry(mark), [pairs.value]: writtenEntry(value) });
    const at: Path = [...pairs.at, index];
    return setIn(setIn(text, [...at, pairs.mark], writtenEntry(mark)), [...at, pairs.value], writtenEntry(value));
  }
  const built: Path = ['fittings', fitting, 'asBuilt'];
  switch (part) {
    case 'face':
      return setIn(text, [...built, 'face'], { fromPlumb: value.text, looksUp: value.sign === -1 ? 'face-' : 'face+' });
    case 'foot':
      return setIn(text, [...built, 'foot'], { fromLevel: value.text, higher: value.sign === -1 ? 'end-' : 'end+' });
    case 'turned':
      return setIn(text, [...built, 'turned'], writtenEntry(value));
    default:
      return setIn(text, ['ship', 'hull', 'fore', 'slope'], writtenEntry(value));
  }
}

/** The job's text without one answer. */
export function withoutAnswer(text: string, { part, index }: Taken, fitting: number): string {
  const pairs = pairsOf(part, fitting);
  if (pairs !== undefined) return removeIn(text, [...pairs.at, index]);
  if (part === 'slope') return removeIn(text, ['ship', 'hull', 'fore', 'slope']);
  return removeIn(text, ['fittings', fitting, 'asBuilt', part]);
}

/** What stands before the figure: whose it is. */
const SUBJECT: Readonly<Record<Part, string>> = {
  tape: '',
  bar: 'gap',
  slope: 'bar',
  face: 'face from plumb',
  foot: 'foot from level',
  turned: 'foot turned',
  feelers: 'gap',
};

/** What a mark is called that has a name of its own: "keel side, aft corner". */
export type Called = (mark: Entry) => string | undefined;

/** An answer in words, to be said back to the diver. */
export function sayBack(
  { part, mark, value }: Pick<Taken, 'part' | 'mark' | 'value'>,
  names?: Names,
  called?: Called,
): string {
  const figure = spokenFigure(value.text);
  const subject = SUBJECT[part];
  const said = `${subject === '' ? '' : `${subject} `}${figure}${wayWords(value, waysOf(part, 'value', names))}`;
  return mark === null ? said : `at ${sayMark(mark, part, called)}: ${said}`;
}

/** The mark alone in words. */
export function sayMark(mark: Entry, part: Part, called?: Called): string {
  const name = called?.(mark);
  if (name !== undefined) return name;
  const ways = waysOf(part, 'mark', undefined);
  // A tape's own direction goes without saying.
  const direction = part === 'tape' && mark.sign !== -1 ? '' : wayWords(mark, ways).replace(/^,/, '');
  return `${part === 'feelers' ? 'mark ' : ''}${spokenFigure(mark.text)}${direction}`;
}

function wayWords(entry: Entry, ways: Ways | undefined): string {
  if (ways === undefined || entry.value === 0 || entry.sign === 0) return '';
  return `, ${ways[entry.sign === 1 ? 0 : 1].word}`;
}

/** The same in figures, short: `250 mm · 14.5° rising outboard`. */
export function inFigures(
  { part, mark, value }: Pick<Taken, 'part' | 'mark' | 'value'>,
  names?: Names,
  called?: Called,
): string {
  const short = (e: Entry): string => e.text.replaceAll(/\s*deg\b/g, '°');
  const value2 = `${short(value)}${wayWords(value, waysOf(part, 'value', names)).replace(/^,/, '')}`;
  if (mark === null) return value2;
  const name = called?.(mark);
  const marked =
    name !== undefined
      ? name
      : part === 'tape'
        ? writtenEntry(mark)
        : `${short(mark)}${wayWords(mark, waysOf(part, 'mark', names))
            .replace(/^,/, '')
            .replace(' of the middle', '')}`;
  return `${marked} · ${value2}`;
}

/** Where the next mark lies if the diver goes on by the same step; nothing where there is no step. */
export function nextMark(taken: readonly Taken[]): Entry | undefined {
  const [before, last] = taken.slice(-2).map((t) => t.mark);
  if (before == null || last == null || taken.length < 2) return undefined;
  const pattern = /^(\d+(?:\.\d+)?) ?([A-Za-z"']+)$/;
  const [p, q] = [pattern.exec(before.text), pattern.exec(last.text)];
  if (p === null || q === null || p[2] !== q[2]) return undefined;
  const step = Number(q[1]) * (last.sign === -1 ? -1 : 1) - Number(p[1]) * (before.sign === -1 ? -1 : 1);
  if (step === 0) return undefined;
  const next = Number((Number(q[1]) * (last.sign === -1 ? -1 : 1) + step).toFixed(6));
  return entryIn(`${next} ${q[2]}`, 'length');
}
