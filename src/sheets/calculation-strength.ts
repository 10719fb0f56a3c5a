import { showFigure, showPhrase } from '../job/show.ts';
import type { CheckUnit } from '../plan/types.ts';
import { MOVE_FROM } from '../strength/checks-shell.ts';
import { printed, printedText } from './calculation-values.ts';
import type { Context } from './context.ts';
import { fixed, ratioText, shopLength } from './figures.ts';
import type { Flow } from './flow.ts';
import { sideNames, sidesInWords, sideWay } from './sides.ts';
import { plainText } from './text.ts';
import { sourceAndStanding } from './words.ts';

/**
 * That what follows holds under the lug's own pull, and which checks the movement of the load makes worse, with both ratios; empty where no
 * movement pulls at the lug.
 */
function ownPullText({ fitting, plan }: Context, ids: readonly string[]): string {
  const swept = plan.lift?.lugs.find(({ id }) => id === fitting.id);
  if (swept === undefined) return '';
  const worse = swept.checks.flatMap(({ check }) => {
    const own = fitting.checks.find(({ id }) => id === check.id);
    if (!ids.includes(check.id) || own === undefined || !(check.ratio > own.ratio)) return [];
    const verdict = check.pass ? '' : ' and FAILS';
    return [`${sidesInWords(fitting, check.title)}: ratio ${ratioText(check)}${verdict}, here ${ratioText(own)}`];
  });
  return `Under the lug’s own pull.${worse.length === 0 ? '' : ` Over the movement of the load it is worse: ${worse.join('; ')}.`}`;
}

/** The weld by every method side by side, the toe that goes first, and what would help the shell: beside the checks, no verdict. */
export function strengthSection(flow: Flow, context: Context): void {
  const { fitting, plan } = context;
  const { display } = plan.job;
  const { methods, toes, shell, load } = fitting.strength;
  const say = (value: number, unit: CheckUnit) =>
    unit === 'share' ? showFigure({ share: value }, display) : printedText(printed(value, unit, display));
  flow.heading(1, 'Beside the checks');
  flow.heading(2, 'The weld of the foot by every method');
  flow.table(
    [
      { title: 'Method', share: 2.6 },
      { title: 'demand', share: 1.4, align: 'right' },
      { title: 'limit', share: 1.4, align: 'right' },
      { title: 'ratio', share: 0.7, align: 'right' },
      { title: '', share: 1.1 },
      { title: 'source, standing', share: 3 },
    ],
    methods.methods.map((method) => [
      method.title,
      say(method.demand, method.unit),
      say(method.limit, method.unit),
      method.ratio > 1000 ? '> 1000' : fixed(method.ratio, 2),
      [method.isCheck ? 'the check' : '', method.governs ? 'governs' : '', method.partial ? 'in part' : '']
        .filter((word) => word !== '')
        .join(', '),
      sourceAndStanding(plainText(method.source), method.standing),
    ]),
    { size: 8, boldRow: (row) => methods.methods[row]?.isCheck === true },
  );
  flow.heading(2, 'Toes of the weld, worst first');
  const pulled = ownPullText(context, ['weld', 'weld-moment']);
  if (pulled !== '') flow.paragraph(pulled, { bold: true });
  flow.paragraph(sidesInWords(fitting, showPhrase(toes.text, display)));
  if (load.allowanceGoverns)
    flow.paragraph(
      `With ± ${say(load.sidewaysAllowed, 'N')} across the plate the figures of the table do not all act at once.`,
    );
  const names = sideNames(fitting);
  flow.table(
    [
      { title: 'Corner', share: 3 },
      { title: 'line force', share: 1.2, align: 'right' },
      { title: 'use of the weld', share: 1.2, align: 'right' },
    ],
    toes.toes.map((toe) => [
      toe.corner
        .split('/')
        .map((side) => sideWay(names[side as keyof typeof names] ?? side))
        .join(' / '),
      say(toe.force, 'N/mm'),
      fixed(toe.utilisation, 2),
    ]),
  );
  flow.heading(2, 'What would help the shell (screening)');
  const bent = ownPullText(context, ['shell-bending', 'shell-bending-clamped']);
  if (bent !== '') flow.paragraph(bent, { bold: true });
  flow.table(
    [
      { title: 'Edges of the panel', share: 2 },
      { title: 'as it stands', share: 1.2, align: 'right' },
      { title: `doubler ${shopLength(shell.doubler, display)} over all of it`, share: 1.6, align: 'right' },
      { title: `lug over the ${shell.member}`, share: 1.4, align: 'right' },
      { title: 'limit', share: 1, align: 'right' },
    ],
    shell.gains.map((gain) => [
      gain.edges === 'simple' ? 'free to turn' : 'held from turning',
      say(gain.stress, 'MPa'),
      say(gain.doubled, 'MPa'),
      shell.onMember ? 'stands there' : gain.overMember === undefined ? 'not worked out' : say(gain.overMember, 'MPa'),
      say(gain.limit, 'MPa'),
    ]),
  );
  if (!shell.onMember && shell.gains.some((gain) => gain.overMember === undefined))
    flow.paragraph(
      `Over the ${shell.member} it is not worked out: bare, the shell is under ${showFigure({ share: MOVE_FROM, digits: 0 }, display)} of its limit, and nobody moves a lug for that.`,
      { size: 8 },
    );
  flow.paragraph(plainText(shell.stillToDo));
}
