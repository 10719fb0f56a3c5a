import type { Basis, Display } from '../job/types.ts';
import type { Standing } from '../strength/check.ts';

/** How well a figure is known, as it is printed beside it. */
export const STANDINGS: Readonly<Record<Standing, string>> = {
  source: 'from the source named',
  'common-practice': 'common practice, no source',
  'not-verified': 'FROM MEMORY, NOT VERIFIED: check before use',
  choice: 'a choice, not a rule',
};

export const BASES: Readonly<Record<Basis, string>> = {
  'aisc-360-asd': 'AISC 360, allowable strength design (ASD)',
  'aisc-360-lrfd': 'AISC 360, load and resistance factor design (LRFD)',
  'en-1993': 'EN 1993 (Eurocode 3)',
  'bth-1': 'ASME BTH-1, design of below-the-hook lifting devices',
};

/**
 * Text with a figure that stands in both systems, `1/16 in (1.6 mm)`, in the reader's own alone. What a source says in one system
 * only stays as the source has it.
 */
export const inOwnUnits = (text: string, display: Display): string =>
  text.replaceAll(BOTH, display === 'us' ? '$1' : '$2');

const BOTH = /(\d[\d./]*(?: \d+\/\d+)? (?:in|ksi|lb\/ft3)) \((\d[\d.]* (?:mm|MPa|kg\/m3))\)/g;

/** The verdict over so many checks that do not pass: one FAILS, two FAIL. */
export const fails = (count: number): string => (count === 1 ? 'FAILS' : 'FAIL');

/** Text as a sentence: a capital at its beginning, one full stop at its end. */
export function sentence(text: string): string {
  const trimmed = text.trim().replace(/(?<!\.)\.+$/, '');
  if (trimmed === '') return '';
  return `${(trimmed[0] as string).toUpperCase()}${trimmed.slice(1)}${/[?!]$/.test(trimmed) ? '' : '.'}`;
}

/** A source and its standing as two sentences; as one where the source already says how it stands. */
export function sourceAndStanding(source: string, standing: Standing): string {
  const how = STANDINGS[standing];
  return source.toLowerCase().includes(how.toLowerCase()) ? sentence(source) : `${sentence(source)} ${sentence(how)}`;
}
