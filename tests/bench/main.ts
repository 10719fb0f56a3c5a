import { cpus } from 'node:os';
import { app } from './app.ts';
import { command } from './command.ts';
import { footHeights } from './footHeights.ts';
import { loftHeights } from './loftHeights.ts';
import { movement } from './movement.ts';
import { memory, plans } from './plans.ts';
import { keptSum } from './race.ts';
import { sampling, scans } from './scans.ts';
import { strength } from './strength.ts';
import { met, type Row, tableOf } from './table.ts';

/** The groups of the bench, in the order in which they run. A new group is one file and one line here. */
const GROUPS: Readonly<Record<string, () => Row[] | Promise<Row[]>>> = {
  heights: footHeights,
  loft: loftHeights,
  plans,
  strength,
  movement,
  sampling,
  scans,
  command,
  app,
  memory,
};

const args = process.argv.slice(2);
const json = args.includes('--json');
const named = args.filter((arg) => arg !== '--json');
const unknown = named.filter((name) => !Object.hasOwn(GROUPS, name));
if (unknown.length > 0) {
  process.stderr.write(`no group ${unknown.join(', ')}; there are: ${Object.keys(GROUPS).join(', ')}\n`);
  process.exit(2);
}
const rows: Row[] = [];
for (const [name, run] of Object.entries(GROUPS)) {
  if (named.length > 0 && !named.includes(name)) continue;
  const more = await run();
  rows.push(...more);
  if (!json) process.stdout.write(`${tableOf(more)}\n`);
}
const machine = { node: process.version, processor: cpus()[0]?.model ?? 'unknown', cores: cpus().length };
if (json) {
  const list = rows.map((row) => ({ ...row, met: met(row) ?? null }));
  process.stdout.write(`${JSON.stringify({ machine, rows: list }, undefined, 2)}\n`);
} else {
  const missed = rows.filter((row) => met(row) === false).length;
  process.stdout.write(
    `\nMedians; ratios are medians within this run. ${rows.filter((row) => met(row)).length} met, ${missed} not met. ` +
      `Node ${machine.node}, ${machine.cores} x ${machine.processor}. (Sum of all results: ${keptSum().toExponential(3)})\n`,
  );
}
