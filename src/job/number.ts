/** A number as people write it, or what keeps it from being one. */
export type NumberReading =
  | { readonly ok: true; readonly value: number }
  | { readonly ok: false; readonly why?: string };

const FRACTION = /^(?:(\d+|\d{1,3}(?: \d{3})+)[ -] ?)?(\d+) ?\/ ?(\d+)$/;
const MANTISSA = /^([\d ., ]*?)(e[+-]?\d{1,4})?$/i;
/** Digits in groups of three, parted by one and the same mark. */
const GROUPED = /^\d{1,3}(?:([ ,.])\d{3})(?:\1\d{3})*$/;

/**
 * Reads an unsigned number: `12`, `1.5`, `1,5`, `1 234.5`, `1,234.5`, `1.234,5`, `3/8`, `1 1/2`, `1-1/2`, `1.2e3`.
 * A point is a decimal mark unless it occurs more than once. A single comma before exactly three digits may part
 * thousands or be the decimal mark (`1,234`): refused, with both readings, except after a zero.
 *
 * @param text spaces already plain, fractions already with `/`, no sign
 */
export function readNumber(text: string): NumberReading {
  const fraction = FRACTION.exec(text);
  if (fraction !== null) return readFraction(fraction[1], fraction[2] ?? '', fraction[3] ?? '');
  const match = MANTISSA.exec(text);
  if (match === null) return { ok: false };
  const mantissa = readMantissa(match[1] ?? '');
  if (!mantissa.ok || match[2] === undefined) return mantissa;
  return { ok: true, value: Number(`${mantissa.value}${match[2]}`) };
}

function readFraction(whole: string | undefined, above: string, below: string): NumberReading {
  const [num, den] = [Number(above), Number(below)];
  if (den === 0) return { ok: false, why: 'a fraction over something other than zero' };
  if (whole === undefined) return { ok: true, value: num / den };
  if (num >= den) return { ok: false, why: 'a fraction smaller than one after the whole number' };
  return { ok: true, value: Number(whole.replaceAll(' ', '')) + num / den };
}

function readMantissa(text: string): NumberReading {
  if (/^\d+$/.test(text)) return { ok: true, value: Number(text) };
  const mark = /[.,](?=\d+$)/.exec(text);
  if (mark === null) return GROUPED.test(text) ? ungrouped(text) : { ok: false };
  const [whole, part] = [text.slice(0, mark.index), text.slice(mark.index + 1)];
  const decimal = (): NumberReading => ({
    ok: true,
    value: Number(`${whole.replaceAll(/[ ,.]/g, '') || '0'}.${part}`),
  });
  if (/^\d*$/.test(whole)) {
    const twoWays = mark[0] === ',' && part.length === 3 && /^[1-9]\d{0,2}$/.test(whole);
    if (twoWays)
      return { ok: false, why: `one of ${whole}.${part} and ${whole}${part}, which "${text}" both could be` };
    return decimal();
  }
  if (GROUPED.test(text)) return ungrouped(text);
  return GROUPED.test(whole) && !whole.includes(mark[0]) ? decimal() : { ok: false };
}

function ungrouped(text: string): NumberReading {
  return { ok: true, value: Number(text.replaceAll(/[ ,.]/g, '')) };
}
