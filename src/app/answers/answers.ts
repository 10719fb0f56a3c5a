import { showFigure, showPhrase } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import type { Check } from '../../plan/types.ts';
import type { Stance } from '../store/view.ts';
import { againstLimit, ratioText } from '../text/checks.ts';
import { leanWords, turnWords } from '../text/pull.ts';
import { type SideNames, sideNames, spotName } from '../text/sides.ts';
import type { ScreenFitting, ScreenPlan } from '../worker/protocol.ts';

/** The five questions, in the order of the job. */
export type Question = 'fit' | 'pull' | 'hold' | 'strike' | 'dive';

/** Word, shape and colour say it together: none of them alone. */
export type State = 'good' | 'care' | 'fail' | 'strike' | 'none';

export interface Answer {
  readonly question: Question;
  readonly asked: string;
  readonly state: State;
  /** The state in a word. */
  readonly word: string;
  /** What a person can say aloud. */
  readonly line: string;
  /** What limits it. */
  readonly bound: string;
  /** Limits held against figures that belong to this question. */
  readonly checks: readonly Check[];
}

/** A gap that was felt is a matter of the fit, not of strength. */
const GAP_FELT = 'as-built-gap';
const FIT = ['fit-gap', GAP_FELT];
const PULL_BUILT = 'as-built-sideways';
const PULL = ['sideways-share', 'off-plane', PULL_BUILT];
const ORDER = ['sealed-length'];

const ORDERS: Readonly<Record<Stance, readonly Question[]>> = {
  bench: ['fit', 'pull', 'hold', 'strike', 'dive'],
  water: ['strike', 'fit', 'dive', 'pull', 'hold'],
  desk: ['pull', 'hold', 'fit', 'strike', 'dive'],
};

/** Rules of the weld itself, by the ids that the weld plan gives its checks. */
const isWeld = (f: ScreenFitting, c: Check): boolean => f.weld.checks.some((w) => w.id === c.id);

/** Whether a check is about strength: those of the trade's fit, pull and order, and of the weld's making, are not. */
export const isStrength = (f: ScreenFitting, c: Check): boolean =>
  ![...FIT, ...PULL, ...ORDER].includes(c.id) && !isWeld(f, c);

export function fiveAnswers(plan: ScreenPlan, fitting: ScreenFitting, stance: Stance): Answer[] {
  const { display } = plan.job;
  const names = sideNames(fitting);
  const all: Readonly<Record<Question, Answer>> = {
    fit: fitAnswer(fitting, display),
    pull: pullAnswer(plan, fitting, display),
    hold: holdAnswer(plan, fitting, display, names),
    strike: strikeAnswer(fitting, display, names),
    dive: diveAnswer(fitting, display, names),
  };
  return ORDERS[stance].map((q) => all[q]);
}

const pick = (f: ScreenFitting, ids: readonly string[]): Check[] => f.checks.filter((c) => ids.includes(c.id));
const failed = (checks: readonly Check[]): boolean => checks.some((c) => !c.pass);

function fitAnswer(f: ScreenFitting, display: Display): Answer {
  const { fit, joint } = f;
  const checks = pick(f, FIT);
  const state: State = failed(checks) || fit.grade === 'recut' ? 'fail' : fit.grade === 'made-up' ? 'care' : 'good';
  const acute = showFigure({ rad: joint.dihedral.min }, display);
  const obtuse = showFigure({ rad: joint.dihedral.max }, display);
  const felt = f.asBuilt?.checks.find((c) => c.id === GAP_FELT && !c.pass);
  if (felt !== undefined)
    return {
      question: 'fit',
      asked: 'Does it fit?',
      state: 'fail',
      word: 'Does not fit as built',
      line: `widest gap felt ${againstLimit(felt, display)}`,
      bound: `As planned: ${lowerFirst(showPhrase(fit.verdict, display)).replace(/\.$/, '')}`,
      checks,
    };
  return {
    question: 'fit',
    asked: 'Does it fit?',
    state,
    word: state === 'good' ? 'Fits' : state === 'care' ? 'Fits with more weld' : 'Does not fit',
    line: afterColon(showPhrase(fit.verdict, display)).replace(/\.$/, ''),
    bound: `Square it would gape ${showFigure({ mm: fit.square.maxGap }, display)} · plate to shell ${acute} to ${obtuse}`,
    checks,
  };
}

/** The lug over the whole movement of the load, where the job gives one. */
export const sweepOf = (plan: ScreenPlan, f: ScreenFitting) => plan.lift?.lugs.find((l) => l.id === f.id);

function pullAnswer(plan: ScreenPlan, f: ScreenFitting, display: Display): Answer {
  const sweep = sweepOf(plan, f);
  const { load, corrections } = f;
  const checks = pick(f, PULL);
  const off = showFigure({ rad: Math.abs(load.offPlane) }, display);
  const share = showFigure({ share: load.sidewaysShare }, display);
  const limit = checks.find((c) => c.id === 'sideways-share');
  const turn = corrections.heading.found ? `turn ${turnWords(corrections.heading.angle, f, display)}` : undefined;
  const lean = corrections.lean.found ? `lean ${leanWords(corrections.lean.angle, f, display)}` : undefined;
  const mend = [turn, lean].filter((x) => x !== undefined).join(', or ');
  const own = failed(checks);
  const leaves = checks.find((c) => c.id === PULL_BUILT && !c.pass);
  const built = leaves === undefined ? '' : ` · as built ${againstLimit(leaves, display)} across the plate`;
  const swept = sweep?.checks.some((c) => PULL.includes(c.check.id) && !c.check.pass) === true;
  const moves = plan.lift !== null && failed(plan.lift.checks);
  const bad = own || swept || moves;
  if (sweep !== undefined) {
    const [first, ...rest] = showPhrase(sweep.summary, display).replace(/\.$/, '').split('; ');
    return {
      question: 'pull',
      asked: 'Does it pull true?',
      state: bad ? 'fail' : 'good',
      word: own || swept ? 'Off the plane' : moves ? 'The movement cannot be done' : 'True',
      line: lowerFirst(first ?? ''),
      bound: `${rest.length > 0 ? `${rest.join('; ')} · ` : ''}through the whole movement, ${plan.lift?.states.length ?? 0} steps · as given ${off} off the plane, ${share} sideways${
        bad && mend !== '' ? ` · ${mend}` : ''
      }${built}`,
      checks,
    };
  }
  return {
    question: 'pull',
    asked: 'Does it pull true?',
    state: bad ? 'fail' : 'good',
    word: bad ? 'Off the plane' : 'True',
    line: `${off} off the plane, ${share} of the pull sideways`,
    bound: `${limit === undefined ? '' : `Limit ${showFigure({ share: limit.limit }, display)}`}${
      bad ? ` · ${mend === '' ? 'no turn or lean brings it true: move lug or load' : mend}` : ''
    }${built} · for this one pull, not the whole movement`,
    checks,
  };
}

function holdAnswer(plan: ScreenPlan, f: ScreenFitting, display: Display, names: SideNames): Answer {
  const { worst } = f.strength.weldGroup;
  const checks = f.checks.filter((c) => isStrength(f, c));
  const carries = `${showFigure({ newtonPerMm: worst.force }, display)} at worst, ${spotName(f, worst.s, names)}`;
  if (checks.length === 0)
    return {
      question: 'hold',
      asked: 'Will it hold?',
      state: 'none',
      word: 'Not computed',
      line: `The weld carries ${carries}`,
      bound: 'Not computed: whether weld, plate, pin, shell, shackle and hoist can bear it. The engineer must.',
      checks,
    };
  const governing = checks.reduce((p, c) => (c.ratio > p.ratio ? c : p));
  const sweep = sweepOf(plan, f);
  const later = (sweep?.checks ?? []).map((c) => c.check).filter((c) => isStrength(f, c) && !c.pass);
  const misses = [
    ...checks.filter((c) => !c.pass),
    ...later.filter((c) => checks.some((o) => o.id === c.id && o.pass)),
  ];
  const bad = misses.length > 0;
  const doubtful = checks.some((c) => c.standing === 'not-verified' || c.screening);
  const onlyScreening = bad && misses.every((c) => c.screening);
  return {
    question: 'hold',
    asked: 'Will it hold?',
    state: bad ? 'fail' : doubtful ? 'care' : 'good',
    word: onlyScreening ? 'Fails the screening' : bad ? 'Does not hold' : doubtful ? 'Holds, to be confirmed' : 'Holds',
    line: `${ratioText(Math.max(governing.ratio, ...later.map((c) => c.ratio)), display)}, by ${lowerFirst((later.find((c) => c.ratio > governing.ratio) ?? governing).title)}`,
    bound: `${misses.length > 0 ? `${misses.length} of ${checks.length} checks fail` : `${checks.length} checks`} by ${basisName(plan.job.basis)}${
      onlyScreening
        ? ' · the engineer must work the shell out'
        : doubtful
          ? ' · some screening, some from memory: see the marks'
          : ''
    }`,
    checks,
  };
}

const BASES: Readonly<Record<ScreenPlan['job']['basis'], string>> = {
  'aisc-360-asd': 'AISC 360 ASD',
  'aisc-360-lrfd': 'AISC 360 LRFD',
  'en-1993': 'EN 1993',
  'bth-1': 'ASME BTH-1',
};
const basisName = (basis: ScreenPlan['job']['basis']): string => BASES[basis];

const lowerFirst = (text: string): string => (/^[A-Z][a-z]/.test(text) ? text[0]?.toLowerCase() + text.slice(1) : text);

function strikeAnswer(f: ScreenFitting, display: Display, names: SideNames): Answer {
  const { sequence, joint } = f;
  const checks = pick(f, ORDER);
  const first = sequence.runs[0];
  const bad = failed(checks);
  const where = spotName(f, sequence.start.s, names);
  const end = spotName(f, sequence.finish.s, names);
  const positions = [...new Set(joint.points.map((p) => p.weldingPosition.aws))].sort().join(' and ');
  const way = first === undefined ? '' : `, going ${first.travel.towards}`;
  return {
    question: 'strike',
    asked: 'Where do I strike first?',
    state: bad ? 'fail' : 'strike',
    word: bad ? 'Gas is shut in' : 'Strike here',
    line: `${capital(where)}${way}`,
    bound: `${sequence.runs.length} runs, last the ${end} · ${positions}${
      sequence.level ? ' · the root lies level: the order is for convenience' : ''
    }${bad ? ` · ${showFigure({ mm: sequence.sealedLength + sequence.trappedLength }, display)} of root against a closed way out` : ''}`,
    checks,
  };
}

/** A verdict says its grade first, before a colon; here the state says it. */
const afterColon = (text: string): string => text.slice(text.indexOf(': ') + 1).trim();

const capital = (text: string): string => (text[0] ?? '').toUpperCase() + text.slice(1);

function diveAnswer(f: ScreenFitting, display: Display, names: SideNames): Answer {
  const { totals, schedule } = f.weld;
  const legs = f.weld.sides.map(
    (s) => `${names[s.side].replace(/ (side|end)$/, '')} ${showFigure({ mm: s.calledLegAlongPlate }, display)}`,
  );
  const weight = `${showFigure({ kg: f.body.massInWater }, display)} in the water`;
  const electrodes = `${showFigure({ count: totals.electrodes }, display)} electrodes, ${showFigure({ minutes: totals.arcMin }, display)} of arc`;
  const checks = f.checks.filter((c) => isWeld(f, c));
  const dives =
    schedule === null
      ? 'dives not counted: enter the time of a dive'
      : schedule.kind === 'planned'
        ? `${showFigure({ count: schedule.dives.length }, display)} dives`
        : `a dive must last ${showFigure({ minutes: schedule.least }, display)} at least`;
  const bad = failed(checks);
  return {
    question: 'dive',
    asked: 'What leaves with the dive?',
    state: bad || schedule?.kind === 'dive-too-short' ? 'fail' : schedule === null ? 'care' : 'good',
    word: bad ? 'Weld outside its rules' : 'Take along',
    line: `${electrodes}, ${dives}`,
    bound: `Lug ${weight} · legs on the plate ${legs.join(', ')}`,
    checks,
  };
}
