import { unitCalled } from '../../job/units.ts';

/**
 * A figure as it is read back over a radio: each digit on its own, "decimal" for the point, units as words.
 * `14.5 deg`: "one four decimal five degrees"; `12 1/8 in`: "one two and one eighth inches". Plain text work; common
 * practice of voice procedure, no source.
 */
export function spokenFigure(text: string): string {
  const plain = text
    .replaceAll(/(\d)(?=[\u00bc-\u00be\u2150-\u215e])/g, '$1 ')
    .normalize('NFKD')
    .replaceAll('\u2044', '/')
    .replaceAll(/[\u2212\u2013]/g, '-')
    .trim();
  const words: string[] = [];
  let lastNumber = '';
  for (const m of plain.matchAll(TOKEN)) {
    const { top, bottom, whole, sign, unit } = m.groups as Record<string, string | undefined>;
    if (top !== undefined && bottom !== undefined) {
      const fraction = fractionWords(top, bottom);
      words.push(/^[\d.,]+$/.test(lastNumber) ? `and ${fraction}` : fraction);
      lastNumber = `${top}/${bottom}`;
    } else if (whole !== undefined) {
      words.push(digits(whole));
      lastNumber = whole;
    } else if (sign !== undefined) {
      words.push(sign === '-' ? 'minus' : 'plus or minus');
      lastNumber = '';
    } else if (unit !== undefined) {
      words.push(unitWord(unit, lastNumber));
      lastNumber = '';
    }
  }
  return words.join(' ');
}

const TOKEN =
  /(?<top>\d+) ?\/ ?(?<bottom>\d+)|(?<whole>\d+(?:[.,]\d+)?|[.,]\d+)|(?<sign>±|\+ ?\/ ?-|-(?=[\d.,]))|(?<unit>[A-Za-z°"']+)/g;

const DIGITS = ['zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'];

const digits = (number: string): string =>
  [...number].map((c) => (c === '.' || c === ',' ? 'decimal' : (DIGITS[Number(c)] ?? c))).join(' ');

const PARTS: Readonly<Record<string, readonly [string, string]>> = {
  2: ['half', 'halves'],
  4: ['quarter', 'quarters'],
  8: ['eighth', 'eighths'],
  16: ['sixteenth', 'sixteenths'],
  32: ['thirty-second', 'thirty-seconds'],
  64: ['sixty-fourth', 'sixty-fourths'],
};

function fractionWords(top: string, bottom: string): string {
  const part = PARTS[bottom];
  return part === undefined ? `${digits(top)} over ${digits(bottom)}` : `${digits(top)} ${part[top === '1' ? 0 : 1]}`;
}

const UNITS: Readonly<Record<string, readonly [string, string]>> = {
  mm: ['millimetre', 'millimetres'],
  cm: ['centimetre', 'centimetres'],
  m: ['metre', 'metres'],
  in: ['inch', 'inches'],
  ft: ['foot', 'feet'],
  deg: ['degree', 'degrees'],
  rad: ['radian', 'radians'],
};

function unitWord(spelled: string, number: string): string {
  const known = UNITS[unitCalled(spelled)?.unit ?? ''];
  if (known === undefined) return spelled;
  return known[number === '1' ? 0 : 1];
}
