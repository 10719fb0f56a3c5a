import type { LoadAlignment } from '../../geometry/align/align.ts';
import type { FitVerdict } from '../../geometry/fit/verdict.ts';
import type { Phrase } from '../../geometry/phrase.ts';
import type { RootSequence } from '../../geometry/sequence/sequence.ts';
import type { Limits } from '../job/types.ts';
import { type Check, check } from '../strength/check.ts';
import { FIT_UP_SOURCE } from '../weld/gapRule.ts';
import { pullRemedy, type Stance } from './pullremedy.ts';
import type { FittingPlan } from './types.ts';

/** Limits of fit, pull and welding order held against the plan. One function, one rule. */
export function tradeChecks(
  limits: Limits,
  gap: number,
  fit: FitVerdict,
  load: LoadAlignment,
  corrections: FittingPlan['corrections'],
  stance: Stance,
  sequence: RootSequence,
): Check[] {
  const remedy = pullRemedy(corrections, stance);
  const list = [fitCheck(limits, gap, fit), sidewaysCheck(limits, load, remedy)];
  if (limits.offPlane !== undefined) list.push(offPlaneCheck(limits.offPlane, load, remedy));
  list.push(sealedCheck(limits, sequence));
  return list;
}

function fitCheck(limits: Limits, gap: number, fit: FitVerdict): Check {
  return check({
    id: 'fit-gap',
    title: 'Fit-up gap of the foot',
    demand: gap,
    limit: limits.recutGap,
    unit: 'mm',
    basis: 'trade',
    source: `${FIT_UP_SOURCE}: a gap over 1/16 in (1.6 mm) is added to the leg, over 3/16 in (4.8 mm) it is not accepted`,
    standing: 'source',
    formula: 'largest stem gap of the chosen cut <= gap that a leg may make up',
    tex: 'g_{max} \\le g_{recut}',
    terms: [
      {
        symbol: 'g_max',
        name: 'largest gap under the foot, measured along the stem, before welding',
        value: gap,
        unit: 'mm',
      },
      {
        symbol: 'g_recut',
        name: 'largest gap that a leg may make up',
        value: limits.recutGap,
        unit: 'mm',
      },
      { symbol: 'g_fit', name: 'gap up to which no leg is added', value: limits.fitGap, unit: 'mm' },
    ],
    remedy: fit.remedies.flatMap((r, i) => (i === 0 ? r : [' ', ...r])),
  });
}

function sidewaysCheck(limits: Limits, load: LoadAlignment, remedy: Phrase): Check {
  return check({
    id: 'sideways-share',
    title: 'Share of the pull that acts across the plate',
    demand: load.sidewaysShare,
    limit: limits.sidewaysShare,
    unit: 'share',
    basis: 'trade',
    source:
      'API RP 2A-WSD: lifting lugs are designed for a side force of 5 % of the static sling load at the pin hole, square to the plate (as given in a textbook on offshore structures)',
    standing: 'source',
    formula: '|d . C| <= share that the lug is designed for',
    tex: '\\left|\\mathbf d\\cdot\\mathbf C\\right| \\le \\eta',
    terms: [
      {
        symbol: 'd.C',
        name: 'sine of the angle between load line and lug plane',
        value: load.sidewaysShare,
        unit: 'share',
      },
      { symbol: 'F_s', name: 'sideways force at the pin', value: Math.abs(load.sideways), unit: 'N' },
      { symbol: 'F', name: 'pull', value: load.force, unit: 'N' },
      { symbol: 'eta', name: 'share of the pull allowed sideways', value: limits.sidewaysShare, unit: 'share' },
    ],
    remedy,
  });
}

function offPlaneCheck(limit: number, load: LoadAlignment, remedy: Phrase): Check {
  return check({
    id: 'off-plane',
    title: 'Angle of the load line to the lug plane',
    demand: Math.abs(load.offPlane),
    limit,
    unit: 'rad',
    basis: 'trade',
    source: 'Limit of the job',
    standing: 'choice',
    formula: '|asin(d . C)| <= angle allowed',
    tex: '\\left|\\arcsin(\\mathbf d\\cdot\\mathbf C)\\right| \\le \\theta',
    terms: [
      { symbol: 'theta', name: 'off-plane angle', value: Math.abs(load.offPlane), unit: 'rad' },
      { symbol: 'theta_lim', name: 'angle allowed', value: limit, unit: 'rad' },
    ],
    remedy,
  });
}

function sealedCheck(limits: Limits, sequence: RootSequence): Check {
  const closed = sequence.sealedLength + sequence.trappedLength;
  const remedy: Phrase = sequence.trap
    ? [
        'Gas gathers under the plate and cannot come out: grind a relief notch in the foot at ',
        { mm: sequence.trap.notchS },
        ' along the root, its highest point, and close it last.',
      ]
    : ['Weld in shorter runs or let the order climb more evenly.'];
  return check({
    id: 'sealed-length',
    title: 'Root welded against a closed vent',
    demand: closed,
    limit: limits.sealedLength,
    unit: 'mm',
    basis: 'trade',
    source: 'common practice, no source: gas that cannot rise out of the crevice blows back through the puddle',
    standing: 'common-practice',
    formula: 'length of root whose gas finds its way out closed <= length accepted',
    tex: 'L_{sealed} \\le L_{acc}',
    terms: [
      { symbol: 'L_order', name: 'length sealed by the order of runs', value: sequence.sealedLength, unit: 'mm' },
      {
        symbol: 'L_trap',
        name: 'length whose gas is trapped by the shape of the shell',
        value: sequence.trappedLength,
        unit: 'mm',
      },
      { symbol: 'L_acc', name: 'length accepted', value: limits.sealedLength, unit: 'mm' },
    ],
    remedy: closed > 0 ? remedy : [],
  });
}
