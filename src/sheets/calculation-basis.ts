import { showFigure } from '../job/show.ts';
import { printed, printedText } from './calculation-values.ts';
import type { Context } from './context.ts';
import { degrees, fixed, shopLength } from './figures.ts';
import type { Flow } from './flow.ts';
import { BASES, STANDINGS } from './words.ts';

/** What the calculation stands on: design basis, materials, ship, factors on the pull, limits of the trade. */
export function basisSection(flow: Flow, context: Context): void {
  const { plan, fitting } = context;
  const { job } = plan;
  const { display } = job;
  const mpa = (value: number) => printedText(printed(value, 'MPa', display));
  const say = (mm: number) => shopLength(mm, display);
  flow.heading(1, 'Basis of design');
  flow.pairs([
    ['Design basis', BASES[job.basis]],
    ['Steel of the lug', `yield ${mpa(job.steel.lug.yield)}, tensile ${mpa(job.steel.lug.tensile)}`],
    [
      'Steel of the shell',
      `yield ${mpa(job.steel.shell.yield)}, tensile ${mpa(job.steel.shell.tensile)}, ${say(job.steel.shell.thickness)} thick`,
    ],
    [
      'Behind the shell',
      `frames every ${say(job.steel.frameSpacing)}, longitudinals every ${say(job.steel.longitudinalSpacing)}`,
    ],
    ['Weld metal', `${job.electrode.kind} electrode, tensile ${mpa(job.electrode.tensile)}`],
    [
      'Ship',
      `length between perpendiculars ${say(job.ship.lpp)}, draft aft ${say(job.ship.draftAft)}, forward ${say(job.ship.draftForward)}, heel ${heelText(job.ship.heel)}, trim ${trimText(plan.trim)}`,
    ],
  ]);
  const { factors } = fitting.strength;
  const names: readonly (readonly [string, keyof typeof factors])[] = [
    ['dynamic factor', 'dynamic'],
    ['skew load factor', 'skew'],
    ['consequence factor', 'consequence'],
    ['load factor of the basis', 'load'],
    ['least share of the pull across the plate', 'sidewaysAllowance'],
  ];
  flow.heading(2, 'Factors on the pull');
  flow.table(
    [
      { title: 'Factor', share: 2 },
      { title: 'value', share: 0.7, align: 'right' },
      { title: 'reason', share: 4 },
      { title: 'standing', share: 1.6 },
    ],
    names.map(([name, key]) => {
      const f = factors[key];
      return [
        name,
        key === 'sidewaysAllowance' ? showFigure({ share: f.value }, display) : fixed(f.value, 3),
        f.reason,
        STANDINGS[f.standing],
      ];
    }),
  );
  flow.heading(2, 'Limits of the trade');
  const { limits } = job;
  const rows: [string, string][] = [
    ['gap up to which a fit is tight', say(limits.fitGap)],
    ['gap beyond which the foot is cut again', say(limits.recutGap)],
    ['share of the pull across the plate', showFigure({ share: limits.sidewaysShare }, display)],
    ['root welded against a closed vent', say(limits.sealedLength)],
    ['height that counts as level', say(limits.level)],
    ['least angle between stem and shell', degrees(limits.stemToShell)],
  ];
  if (limits.offPlane !== undefined) rows.push(['pull out of the plane', degrees(limits.offPlane)]);
  flow.pairs(rows, 0.6, 8.5);
}

/** Trim with the end that lies deeper; plus is by the stern. rad */
export function trimText(trim: number): string {
  const angle = degrees(Math.abs(trim), 2);
  if (Number.parseFloat(angle) === 0) return 'none';
  return `${angle} by the ${trim > 0 ? 'stern' : 'bow'}`;
}

/** Heel with the side that lies lower; plus is starboard down. rad */
export function heelText(heel: number): string {
  const angle = degrees(Math.abs(heel), 2);
  if (Number.parseFloat(angle) === 0) return 'none';
  return `${angle} to ${heel > 0 ? 'starboard' : 'port'}`;
}
