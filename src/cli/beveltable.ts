import Papa from 'papaparse';
import { internalPer } from '../job/units.ts';
import type { Plan } from '../plan/types.ts';

/**
 * The bevel of every foot along its length as a table for the shop (CSV, one row a station). Lengths in mm and inches,
 * the bevel in degrees: the burner reads it off whichever rule is at hand.
 */
export function bevelTable(plan: Plan): string {
  const rows = plan.fittings.flatMap((fitting) =>
    fitting.bevel.schedule.map((at) => {
      const mm = [at.a, at.faceMinus, at.facePlus];
      const row: Record<string, string> = { fitting: spreadsheetText(fitting.id) };
      for (const [i, name] of ['along foot', 'height at face-', 'height at face+'].entries()) {
        row[`${name} (mm)`] = (mm[i] ?? Number.NaN).toFixed(2);
        row[`${name} (in)`] = ((mm[i] ?? Number.NaN) / internalPer('in')).toFixed(3);
      }
      row['bevel (deg)'] = ((at.bevel * 180) / Math.PI).toFixed(2);
      return row;
    }),
  );
  return `${Papa.unparse(rows, { newline: '\n' })}\n`;
}

/** A spreadsheet takes a cell that begins with one of these for a formula: a name from a file must not be one. */
function spreadsheetText(text: string): string {
  return /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
}
