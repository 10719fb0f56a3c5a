import type { Phrase } from '../../geometry/phrase.ts';
import { showFigure, showPhrase } from '../job/show.ts';
import { escaped } from '../job/shown.ts';
import type { Display } from '../job/types.ts';
import type { StanceOffer } from '../plan/movement/stancetypes.ts';
import type { LiftPlan } from '../plan/movement/types.ts';
import type { Check } from '../plan/types.ts';
import { demandAgainstLimit } from './checktext.ts';
import { block, table } from './layout.ts';

/** Every check of the movement: its own and those of each lug. */
export function liftChecks(lift: LiftPlan | null): readonly Check[] {
  return lift === null ? [] : [...lift.checks, ...lift.lugs.flatMap((lug) => lug.checks.map(({ check }) => check))];
}

/** The movement of the load for a person: every step with its tensions, the worst of each lug, what fails. */
export function liftLines(lift: LiftPlan, offers: readonly StanceOffer[], display: Display): string[] {
  const say = (phrase: Phrase) => escaped(showPhrase(phrase, display));
  const pulls = (tension: number) => showFigure({ newton: tension }, display);
  return [
    ...lift.notes.flatMap((note, i) => block(i === 0 ? 'Movement' : '', say(note))),
    ...table(
      ['step', 'what', ...lift.lines.map((line) => `line ${escaped(line.id)}`), 'hangs'],
      lift.states.map((state, i) => [
        String(i + 1),
        escaped(state.parts === 1 ? state.label : `${state.label}, ${state.part} of ${state.parts}`),
        ...lift.lines.map((_, k) => {
          if (!Number.isFinite(state.lengths[k])) return 'off';
          if (!state.rest.found) return 'not at rest';
          const tension = state.rest.equilibrium.lines[k]?.tension ?? 0;
          return tension > 0 ? pulls(tension) : 'slack';
        }),
        state.rest.found ? state.rest.equilibrium.stability.kind : 'NOT AT REST',
      ]),
    ),
    ...lift.pushes.flatMap((push) => {
      const { worst } = push;
      const text: Phrase =
        worst === null
          ? [`${push.name}: the load is nowhere at rest`]
          : [
              `${push.name}, `,
              { newton: push.force },
              `: moves the load by `,
              { mm: worst.swing.distance, digits: 0 },
              ' and turns it ',
              { rad: worst.swing.turn },
              ` at most, at step ${worst.state + 1}`,
            ];
      return block('Push', say(text));
    }),
    ...lift.lugs.flatMap((lug) => {
      const failed = lug.checks.filter(({ check }) => !check.pass);
      return [
        ...block(escaped(lug.id), say(lug.summary)),
        ...offers.filter(({ id }) => id === lug.id).flatMap(({ text }) => block('Stance', say(text))),
        ...block('Checks', `${lug.checks.length - failed.length} of ${lug.checks.length} pass over the whole movement`),
        ...failed.flatMap(({ check, state, push }) => {
          const where = push === null ? `step ${state + 1}` : `step ${state + 1} under ${escaped(push)}`;
          return [
            ...block('FAILS', `${check.title}, ${where}: ${demandAgainstLimit(check, display)}`),
            ...block('', say(check.remedy)),
          ];
        }),
      ];
    }),
    ...lift.checks
      .filter((check) => !check.pass)
      .flatMap((check) => [
        ...block('FAILS', `${check.title}: ${demandAgainstLimit(check, display)}`),
        ...block('', say(check.remedy)),
      ]),
  ];
}
