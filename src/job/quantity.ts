import { readNumber } from './number.ts';
import { internalPer, type Kind, STANDARD_GRAVITY, unitCalled } from './units.ts';

/**
 * A quantity in internal units (mm, rad, N, kg, MPa, A, V, min, m^3, kg/m^3; a share as 0..1), or what was expected instead.
 * `error`: what stands after `±`, in the same unit; absent where nothing does.
 */
export type QuantityReading =
  | { readonly ok: true; readonly value: number; readonly error?: number }
  | { readonly ok: false; readonly expected: string };

/** What to call a kind, and how a good one looks. */
const KINDS: Readonly<Record<Kind, { readonly name: string; readonly like: string; readonly most: number }>> = {
  length: { name: 'a length', like: '12 mm', most: 1e6 },
  angle: { name: 'an angle', like: '14.5 deg', most: 2 * Math.PI + 1e-9 },
  force: { name: 'a force', like: '110 kN', most: 1e9 },
  mass: { name: 'a mass', like: '22 kg', most: 1e8 },
  load: { name: 'a rated load', like: '25 t', most: 1e9 },
  stress: { name: 'a stress', like: '250 MPa', most: 1e4 },
  current: { name: 'a current', like: '90 A', most: 1e4 },
  potential: { name: 'a voltage', like: '30 V', most: 1e3 },
  time: { name: 'a time', like: '45 min', most: 1e6 },
  share: { name: 'a share', like: '5 %', most: 1 },
  volume: { name: 'a volume', like: '1.2 m3', most: 1e5 },
  density: { name: 'a density', like: '1025 kg/m3', most: 1e5 },
};

/** The larger unit of two that are written together, and how many of the smaller it holds. */
const COMPOUND: Readonly<Record<string, { readonly smaller: string; readonly holds: number }>> = {
  ft: { smaller: 'in', holds: 12 },
  hour: { smaller: 'minute', holds: 60 },
};

/** Units that people write and that mean several things, or another kind of thing. */
const HINTS: Readonly<Record<string, string>> = {
  ton: 'write tonf (2000 lbf) or t (1000 kg)',
  tons: 'write tonf (2000 lbf) or t (1000 kg)',
  mils: 'write in or mm',
  "'": 'write ft',
};

/** `a length with its unit, like "12 mm"` */
export function expectedQuantity(kind: Kind, like?: string): string {
  return `${KINDS[kind].name} with its unit, like "${like ?? KINDS[kind].like}"`;
}

/** What the largest quantity is that is taken for real: in internal units, either sign. */
export function mostOf(kind: Kind): number {
  return KINDS[kind].most;
}

const PART =
  /((?:\d|[.,]\d)(?:[\d., /-]*\d)?(?:e[+-]?\d+)?) ?(N\/mm\^?2|(?:(?:kg|t|lb)\/)?(?:m|ft)\^?3|[^\d\s.,+-][^\d\s-]*)?(?:(?:-| - )(?=\d)| ?)/iy;

/**
 * Reads a quantity with its unit: `310 mm`, `1 1/2 in`, `5 ft 6 1/2 in`, `5' 6½"`, `1,5 m`, `-0.6 deg`, `11 tonf`,
 * `2.2 m ± 20 mm`.
 * `load` takes a mass too and gives the force of standard gravity on it.
 *
 * @param like an example for the message, where the usual one would mislead
 */
export function readQuantity(text: string, kind: Kind, like?: string): QuantityReading {
  const expected = expectedQuantity(kind, like);
  if (text.length > 100) return { ok: false, expected };
  const all = plainText(text);
  const sure = PLUS_MINUS.exec(all);
  if (sure === null) return readPlain(all, kind, expected);
  const [, first = '', second = ''] = sure;
  const error = readPlain(second, kind, expected);
  // `14.5 ± 0.5 deg`: the unit stands once, at the end.
  const unit = /[^\d.,/\s]+$/.exec(second)?.[0] ?? '';
  const value = readPlain(/\d$/.test(first) ? `${first} ${unit}` : first, kind, expected);
  if (!value.ok) return value;
  if (!error.ok || !(error.value >= 0) || second.startsWith('+')) {
    return { ok: false, expected: `${expected}, and after ± how far off it may be, like "± ${KINDS[kind].like}"` };
  }
  return { ok: true, value: value.value, error: error.value };
}

/** `2.2 m ± 20 mm`, `+/-` for those who have no such key. */
const PLUS_MINUS = /^(.*?) ?(?:±|\+ ?\/ ?-|\+-) ?(.*)$/;

function readPlain(plain: string, kind: Kind, expected: string): QuantityReading {
  const negative = plain.startsWith('-');
  const parts = split(plain.replace(/^[+-] ?/, ''));
  const [first, second] = parts ?? [];
  if (first === undefined || parts === undefined || parts.length > 2) return { ok: false, expected };

  const larger = readPart(first, kind, expected);
  if (!larger.ok) return larger;
  let value = larger.value;
  if (second !== undefined) {
    const compound = COMPOUND[larger.unit];
    const smaller = readPart(second, kind, expected);
    if (!smaller.ok) return smaller;
    if (compound === undefined || smaller.unit !== compound.smaller) return { ok: false, expected };
    if (!Number.isInteger(larger.count) || smaller.count >= compound.holds) {
      const [a, b] = [first.unit, second.unit];
      return { ok: false, expected: `whole ${a}, then less than ${compound.holds} ${b}` };
    }
    value += smaller.value;
  }
  if (!(value <= KINDS[kind].most)) return { ok: false, expected: `${expected}, not beyond ${mostText(kind)}` };
  return { ok: true, value: negative && value !== 0 ? -value : value };
}

type PartReading =
  | { readonly ok: true; readonly value: number; readonly count: number; readonly unit: string }
  | { readonly ok: false; readonly expected: string };

function readPart(part: { number: string; unit: string }, kind: Kind, expected: string): PartReading {
  const count = readNumber(part.number);
  if (!count.ok) return { ok: false, expected: count.why ?? expected };
  if (part.unit === '') return { ok: false, expected };
  const unit = unitCalled(part.unit);
  if (unit === undefined) {
    const hint = HINTS[part.unit.toLowerCase()];
    return { ok: false, expected: hint === undefined ? expected : `${expected}: ${hint}` };
  }
  const product = count.value * internalPer(part.unit);
  // Rounded to 15 digits: 12 in is 304.8 mm, which the product in binary is not. A right angle has no last digit.
  const internal = unit.unit === 'deg' ? (count.value * Math.PI) / 180 : Number(product.toPrecision(15));
  const done = (value: number): PartReading => ({ ok: true, value, count: count.value, unit: unit.unit });
  if (unit.kind === kind) return done(internal);
  if (kind === 'load' && unit.kind === 'force') return done(internal);
  if (kind === 'load' && unit.kind === 'mass') return done(internal * STANDARD_GRAVITY);
  if (kind === 'force' && unit.kind === 'mass') {
    const hint = unit.unit === 'lb' ? 'lb is a mass, write lbf' : `${part.unit} is a mass, write kN, lbf, kip or tonf`;
    return { ok: false, expected: `${expected}: ${hint}` };
  }
  return { ok: false, expected };
}

function split(text: string): { number: string; unit: string }[] | undefined {
  const parts: { number: string; unit: string }[] = [];
  PART.lastIndex = 0;
  while (PART.lastIndex < text.length) {
    const match = PART.exec(text);
    if (match === null) return undefined;
    parts.push({ number: match[1] ?? '', unit: match[2] ?? '' });
  }
  return parts;
}

/** One space where there was any, `-` for every minus, `/` in every fraction, ' and " for feet and inches. */
export function plainText(text: string): string {
  return text
    .replaceAll(/[\u00BC-\u00BE\u2150-\u215E]/g, (c) => ` ${c.normalize('NFKC')} `)
    .replaceAll(/[\u2212\u2010-\u2013]/g, '-')
    .replaceAll(/[\u2033\u201C\u201D]/g, '"')
    .replaceAll(/[\u2032\u2018\u2019]/g, "'")
    .replaceAll(/[\u00BA\u02DA]/g, '°')
    .normalize('NFKC')
    .replaceAll("''", '"')
    .replaceAll('\u2044', '/')
    .replaceAll(/[ \t]+/g, ' ')
    .trim();
}

function mostText(kind: Kind): string {
  const texts: Readonly<Record<Kind, string>> = {
    length: '1 km',
    angle: '360 deg',
    force: '1000 MN',
    mass: '100 000 t',
    load: '1000 MN',
    stress: '10 GPa',
    current: '10 000 A',
    potential: '1000 V',
    time: '1 000 000 min',
    share: '100 %',
    volume: '100 000 m3',
    density: '100 000 kg/m3',
  };
  return texts[kind];
}
