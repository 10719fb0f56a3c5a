import type { HullSpec } from '../../../geometry/hull/spec.ts';
import { Refusal } from '../../../geometry/refusal.ts';
import { showPhrase } from '../../job/show.ts';
import type { Display, Fault } from '../../job/types.ts';
import { planJob, shellOf } from '../../plan/plan.ts';
import { planFile } from '../../plan/planfile.ts';
import { PlanRefused } from '../../plan/refused.ts';
import type { Uncertainty } from '../../plan/spreads.ts';
import type { FittingPlan, Plan } from '../../plan/types.ts';
import type { WeldPlan } from '../../weld/weldPlan.ts';
import { drawingKey, drawShell } from './drawing.ts';
import { readHeld } from './held.ts';
import { inWords } from './inwords.ts';
import { knownHull, withKnownHull } from './livejob.ts';
import { drawLug } from './lugdrawing.ts';
import type { DrawingReply, PlanReply, PlanRequest, ScreenFitting, ScreenWeld, TakeAway } from './protocol.ts';

/** Faults of a job file, without planning; of files that are not read yet nothing is said. */
export function readRequest(request: PlanRequest): readonly Fault[] {
  const held = readHeld(request);
  return held.kind === 'wants' || held.reading.ok ? [] : held.reading.faults;
}

/**
 * Plans a job and draws the ship round one of its fittings.
 * @param lastKey the drawing the asker already has
 */
export function planRequest(request: PlanRequest, lastKey: string): PlanReply {
  const start = performance.now();
  const held = readHeld(request);
  if (held.kind === 'wants') return held;
  const { reading } = held;
  if (!reading.ok) return { kind: 'refused', faults: reading.faults };
  const job = withKnownHull(reading.job);
  let plan: Plan;
  try {
    plan = planJob(job);
  } catch (error) {
    if (!(error instanceof PlanRefused)) throw error;
    const { display } = job;
    return {
      kind: 'refused',
      faults: error.faults.map((f) => ({
        path: f.path,
        found: showPhrase(f.found, display),
        expected: showPhrase(f.expected, display),
      })),
    };
  }
  const drawing = drawingOf(plan, request, lastKey);
  const lugs = plan.fittings.map((f) => drawLug(f, plan.up));
  const fittings = plan.fittings.map((f) => screenFitting(f, job.display));
  return { kind: 'planned', plan: { ...plan, fittings }, lugs, drawing, took: performance.now() - start };
}

/** The plan file of a job, byte for byte what the command line writes; nothing where the job cannot be planned or a file is not read. */
export function filesFor(request: PlanRequest, sure?: Uncertainty): readonly TakeAway[] {
  const held = readHeld(request);
  if (held.kind === 'wants' || !held.reading.ok) return [];
  const { reading } = held;
  try {
    const plan = withSure(planJob(withKnownHull(reading.job)), sure);
    return [{ name: 'plan.json', type: 'application/json', content: `${JSON.stringify(planFile(plan), null, 1)}\n` }];
  } catch (error) {
    if (error instanceof PlanRefused) return [];
    throw error;
  }
}

/** A plan with what is known of its readings' errors. */
export const withSure = (plan: Plan, sure: Uncertainty | undefined): Plan =>
  sure === undefined ? plan : { ...plan, uncertainty: sure };

/** Leaves out what holds live parts of the shell and cannot go to another thread. */
function screenFitting(whole: FittingPlan, display: Display): ScreenFitting {
  const { field: _field, fit, weld, strength, ...rest } = whole;
  const { verdict, remedies, checks, asBuilt } = inWords(whole, display);
  // Named one by one: every object that crosses to the page's own thread costs time there, with every step of a drag.
  const { weldGroup, use } = strength;
  const { square, straight, faceted, scribed } = fit;
  return {
    ...rest,
    checks,
    asBuilt,
    fit: {
      ...fit,
      verdict,
      remedies,
      square: plain(square),
      straight: plain(straight),
      faceted: plain(faceted),
      scribed: plain(scribed),
    },
    strength: { weldGroup, use },
    weld: screenWeld(weld),
  };
}

function screenWeld({ work, passes: _passes, schedule, ...rest }: WeldPlan): ScreenWeld {
  if (schedule?.kind !== 'planned') return { ...rest, schedule };
  const dives = schedule.dives.flatMap((d) => {
    const [first, last] = [d.pieces[0], d.pieces.at(-1)];
    if (first === undefined || last === undefined) return [];
    const item = work[last.no - 1];
    return [
      {
        dive: d.dive,
        minutes: d.minutes,
        firstNo: first.no,
        lastNo: last.no,
        lastTask: item?.task ?? 'run',
        layer: item?.task === 'run' ? item.layer : null,
        s: last.toS,
        finishes: last.finishes,
      },
    ];
  });
  return { ...rest, schedule: { kind: 'planned', minutes: schedule.minutes, dives } };
}

function plain<Cut extends { readonly surface: unknown }>({ surface: _surface, ...rest }: Cut): Omit<Cut, 'surface'> {
  return rest;
}

/** Tells one ship from another. Of a mesh what is kept and fitted follows the lugs: that is the same ship all the same. */
function hullName(spec: HullSpec): string {
  if (spec.kind !== 'mesh') return knownHull();
  const { triangles, half } = spec;
  return `${half} ${triangles.name.replace(/"(stations|reach|patch)":(\[[^\]]*\]|[^,}]*)/g, '')}`;
}

function drawingOf(plan: Plan, request: PlanRequest, lastKey: string): DrawingReply {
  const fitting = plan.fittings[Math.min(request.drawn, plan.fittings.length - 1)];
  if (fitting === undefined) return { kind: 'none', reason: 'there is no lug in this job' };
  const spec = plan.job.ship.hull;
  const spacing = plan.job.steel.frameSpacing;
  const { structure } = plan.job.ship;
  const key = drawingKey(`${hullName(spec)}${JSON.stringify(structure)}`, fitting.anchor, spacing);
  if (key === lastKey) return { kind: 'same', key };
  try {
    return { kind: 'drawn', drawing: drawShell(shellOf(spec), fitting.anchor, spacing, key, structure) };
  } catch (error) {
    if (error instanceof Refusal) {
      return { kind: 'none', reason: showPhrase(error.found, plan.job.display) };
    }
    return { kind: 'none', reason: error instanceof Error ? error.message : String(error) };
  }
}
