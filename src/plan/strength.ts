import type { LoadAlignment } from '../../geometry/align/align.ts';
import type { RootLine } from '../../geometry/fit/rootline.ts';
import type { ShellPoint } from '../../geometry/hull/shell.ts';
import type { LugFrame } from '../../geometry/lug/frame.ts';
import { cross, dot, length, type Vec3 } from '../../geometry/math/vec.ts';
import type { Assumption, Factors, Fitting, Job } from '../job/types.ts';
import { BTH_FACTORS, EN_FACTORS } from '../strength/basis.ts';
import { WET_WELD_FACTORS } from '../strength/directional.ts';
import { defaultFactors, type LiftFactors, type ReasonedFactor } from '../strength/factors.ts';
import type { StrengthInput } from '../strength/input.ts';
import { behindAt } from './structure.ts';

/** What the strength checks of a fitting start from. mm, N, MPa, rad; ship axes. */
export function strengthInput(
  job: Job,
  fitting: Fitting,
  anchor: ShellPoint,
  frame: LugFrame,
  pin: Vec3,
  root: RootLine,
  load: LoadAlignment,
  up: Vec3,
): StrengthInput {
  const { lug, shackle, hoist } = fitting;
  const { welding, coefficients, steel } = job;
  return {
    basis: job.basis,
    load: { alongStem: load.alongStem, alongFoot: load.alongFoot, sideways: load.sideways },
    lug,
    ...(lug.cheek && { cheek: lug.cheek }),
    steel: { lug: steel.lug, shell: steel.shell },
    frame,
    pin,
    root,
    weld: {
      throat: fitting.weld.leg / Math.SQRT2,
      electrode: job.electrode.tensile,
      wet: {
        quality: welding.quality ?? WET_WELD_FACTORS.quality,
        startStop: welding.startStop ?? WET_WELD_FACTORS.startStop,
      },
      directional: welding.directional ?? false,
    },
    panel: {
      ...behindAt(job, fitting, anchor),
      anchor: anchor.position,
      normal: anchor.normal,
      fore: anchor.tFore,
      girth: anchor.tGirth,
      fromKeel: anchor.girth,
      stressPresent: steel.shell.stressPresent,
    },
    ...(shackle && { shackle }),
    ...(hoist && { hoist }),
    inPlane: load.inPlane,
    offPlane: load.offPlane,
    // By both, so that a line that hangs plumb is not off it by round-off.
    fromPlumb: Math.atan2(length(cross(load.direction, up)), Math.abs(dot(load.direction, up))),
    factors: givenFactors(job.factors),
    en: { ...EN_FACTORS, ...coefficients.en },
    bth: { ...BTH_FACTORS, ...coefficients.bth },
  };
}

function givenFactors(factors: Factors): Partial<LiftFactors> {
  const out: { -readonly [K in keyof LiftFactors]?: ReasonedFactor } = {};
  for (const key of ['dynamic', 'skew', 'consequence', 'load', 'sidewaysAllowance'] as const) {
    const value = factors[key];
    if (value !== undefined) out[key] = { value, reason: 'entered in the job', standing: 'choice' };
  }
  return out;
}

/** Defaults of the strength checks that a job leaves open, each with its reason: shown with the plan. */
export function strengthAssumptions(job: Job): Assumption[] {
  const out: Assumption[] = [];
  const add = (path: string, value: number, reason: string, standing: Assumption['standing']) =>
    out.push({ path, value: String(value), reason, standing });
  const factors = defaultFactors(job.basis);
  for (const key of ['dynamic', 'skew', 'consequence', 'load', 'sidewaysAllowance'] as const) {
    if (job.factors[key] === undefined)
      add(`factors.${key}`, factors[key].value, factors[key].reason, factors[key].standing);
  }
  out.push(...panelAssumptions(job));
  const wet =
    "the electrode's tensile strength, given or assumed, has to be the one that the wet procedure's own tests prove";
  if (job.welding.quality === undefined) add('welding.quality', WET_WELD_FACTORS.quality, wet, 'choice');
  if (job.welding.startStop === undefined) {
    add(
      'welding.startStop',
      WET_WELD_FACTORS.startStop,
      'every start and stop is ground before the next bead',
      'choice',
    );
  }
  if (job.basis === 'bth-1') {
    const given = job.coefficients.bth ?? {};
    const why = 'ASME BTH-1, recalled and not read in the standard: enter the figure of your edition';
    for (const key of ['designFactor', 'fractureEdge', 'fractureNet', 'bearing'] as const) {
      if (given[key] === undefined) add(`coefficients.bth.${key}`, BTH_FACTORS[key], why, 'not-verified');
    }
  }
  if (job.basis === 'en-1993') {
    const given = job.coefficients.en ?? {};
    for (const key of ['gammaM0', 'gammaM2', 'gammaM6ser'] as const) {
      if (given[key] === undefined) {
        add(
          `coefficients.en.${key}`,
          EN_FACTORS[key],
          'EN 1993 recommended value; a national annex may set another',
          'source',
        );
      }
    }
  }
  return out;
}

/**
 * Where nobody knows how far a fitting stands from a member behind the shell, that way is taken at mid-panel: each way apart. A place
 * that is not given by girth is held only against longitudinals that are there at all.
 */
function panelAssumptions(job: Job): Assumption[] {
  const longitudinals = job.ship.structure?.longitudinals ?? [];
  return job.fittings.flatMap((fitting, i): Assumption[] => {
    const { at } = fitting;
    const girth = at.by === 'girth' ? at.value : Number.NaN;
    const behind = behindAt(job, fitting, { station: at.station, girth, side: at.side });
    const taken = (field: string, from: string, between: string): Assumption => ({
      path: `fittings[${i}].behind.${field}`,
      value: 'mid-panel',
      reason: `how far the lug stands from the ${from} is not given: the shell panel is screened with the lug half-way between ${between}, which need not be the worst place`,
      standing: 'choice',
    });
    const open = at.by === 'girth' || !longitudinals.some((l) => l.side === undefined || l.side === at.side);
    return [
      ...(behind.fromFrame === undefined ? [taken('fromFrame', 'frame abaft', 'frames')] : []),
      ...(behind.fromLongitudinal === undefined && open
        ? [taken('fromLongitudinal', 'longitudinal inboard', 'longitudinals')]
        : []),
    ];
  });
}
