import { escaped } from '../job/shown.ts';

/** Text from a job as it may stand on a sheet: one line, nothing that does not print, nothing that turns the reading direction. */
export const plainText = (text: string): string => escaped(text.replaceAll(/[\s\u2028\u2029]+/gu, ' ').trim());

/** A spreadsheet takes a cell that begins with one of these for a formula: a name from a job must not be one. */
export const cellText = (text: string): string => (/^[\s]*[=+\-@\t\r]/.test(text) ? `'${text}` : text);

/**
 * A file name from the id of a fitting: letters and digits of any script, the rest as dashes; never empty, never a name that
 * a system keeps for itself.
 */
export function fileStem(id: string): string {
  const plain = id
    .normalize('NFC')
    .replaceAll(/[^\p{L}\p{N}]+/gu, '-')
    .replaceAll(/^-+|-+$/g, '');
  const short = [...plain].slice(0, 40).join('');
  if (short === '') return 'fitting';
  return /^(con|prn|aux|nul|com\d|lpt\d)$/i.test(short) ? `${short}-fitting` : short;
}

/** Stems for a list of ids, no two alike whatever the system thinks of capitals. */
export function fileStems(ids: readonly string[]): string[] {
  const taken = new Set<string>();
  return ids.map((id) => {
    const stem = fileStem(id);
    let name = stem;
    for (let n = 2; taken.has(name.toLowerCase()); n++) name = `${stem}-${n}`;
    taken.add(name.toLowerCase());
    return name;
  });
}

/** Stretches of text that read the same way, in the order they stand on a line that reads from the left. */
export function readingRuns(text: string): string[] {
  const rtl = /[\u0590-\u08FF\uFB1D-\uFDFF\uFE70-\uFEFC]/u;
  if (!rtl.test(text)) return [text];
  return (
    text.match(
      /[\u0590-\u08FF\uFB1D-\uFDFF\uFE70-\uFEFC](?:[\u0590-\u08FF\uFB1D-\uFDFF\uFE70-\uFEFC\s]*[\u0590-\u08FF\uFB1D-\uFDFF\uFE70-\uFEFC])?|[^\u0590-\u08FF\uFB1D-\uFDFF\uFE70-\uFEFC]+/gu,
    ) ?? [text]
  );
}
