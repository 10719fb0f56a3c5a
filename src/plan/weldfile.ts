import { showPhrase } from '../job/show.ts';
import type { Job } from '../job/types.ts';
import { DEPOSIT_DENSITY } from '../weld/deposit.ts';
import { LEAST_LEAD } from '../weld/leads.ts';
import type { WeldPlan } from '../weld/weldPlan.ts';
import { degrees, finite } from './filefigures.ts';
import type { FittingPlan } from './types.ts';

/** kg/m3 of a kg/mm3. */
const PER_CUBIC_METRE = 1e9;

/** `weld` of the plan file: what the weld takes. */
export function weldFile({ weld }: FittingPlan, job: Job) {
  const { display } = job;
  const { totals, schedule } = weld;
  const { ruling, figures } = weld.steel;
  const planned = schedule?.kind === 'planned' ? schedule : undefined;
  const density = DEPOSIT_DENSITY[job.electrode.kind];
  const { class: asked, edition } = job.welding;
  return {
    /** Class of AWS D3.6M, where the job asks for one. */
    ...(asked === undefined ? {} : { class: edition === undefined ? { class: asked } : { class: asked, edition } }),
    sides: weld.sides.map((side) => ({
      side: side.side,
      dihedralDeg: degrees(side.dihedral),
      throatMm: finite(side.throat),
      legAlongPlateMm: finite(side.legAlongPlate),
      legSquareMm: finite(side.legSquare),
      addedForGapMm: finite(side.addedForGap),
      areaMm2: finite(side.area),
      layers: finite(side.layers),
      beads: finite(side.beads),
      lengthMm: finite(side.length),
      calledLegAlongPlateMm: finite(side.calledLegAlongPlate),
      calledLegSquareMm: finite(side.calledLegSquare),
      addedForZLossMm: finite(side.zLoss),
      depositAreaMm2: finite(side.sectionArea),
      beadsByLayer: side.stack.layers.map((layer) => ({
        layer: layer.layer,
        kind: layer.kind,
        thicknessMm: finite(layer.thickness),
        beadAreasMm2: layer.beads.map((bead) => finite(bead.area)),
      })),
    })),
    depositKg: finite(totals.depositKg),
    featheredKg: finite(totals.featheredKg),
    depositDensityKgPerM3: finite(density.value * PER_CUBIC_METRE),
    depositDensitySource: density.source,
    electrodes: finite(totals.electrodes),
    arcMin: finite(totals.arcMin),
    /** Null where nobody gave a bottom time, or no dive of the time given holds the least step of work. */
    dives: planned === undefined ? null : planned.dives.length,
    workMin: finite(totals.workMin),
    changeMin: finite(totals.changeMin),
    grindMin: finite(totals.grindMin),
    cleanMin: finite(totals.cleanMin),
    holdMin: finite(totals.holdMin),
    bottomTimeMin: planned === undefined ? null : finite(planned.minutes),
    ...(schedule?.kind === 'dive-too-short' ? { leastBottomTimeMin: finite(schedule.least) } : {}),
    passes: weld.passes.map((pass) => ({
      pass: pass.pass,
      /** Absent for the first pass: there is none under it. */
      ...(Number.isFinite(pass.stagger) ? { staggerMm: finite(pass.stagger) } : {}),
      ...(Number.isFinite(pass.overlap) ? { overlapMm: finite(pass.overlap) } : {}),
      ...(Number.isFinite(pass.apart) ? { apartMm: finite(pass.apart) } : {}),
      cornerDistanceMm: finite(pass.cornerDistance),
      runs: pass.runs.map((run) => ({ run: run.run, fromSMm: finite(run.fromS), toSMm: finite(run.toS) })),
    })),
    work: weld.work.map((item) =>
      item.task === 'hold'
        ? { no: item.no, task: item.task, hold: item.hold, bottomTimeMin: finite(item.minutes) }
        : {
            no: item.no,
            task: item.task,
            pass: item.pass,
            layer: item.layer,
            kind: item.kind,
            bead: item.bead,
            fromSMm: finite(item.fromS),
            toSMm: finite(item.toS),
            electrodes: finite(item.electrodes),
            bottomTimeMin: finite(item.minutes),
          },
    ),
    schedule:
      planned === undefined
        ? null
        : planned.dives.map((dive) => ({
            dive: dive.dive,
            bottomTimeMin: finite(dive.minutes),
            pieces: dive.pieces.map((piece) => ({
              no: piece.no,
              fromSMm: finite(piece.fromS),
              toSMm: finite(piece.toS),
              finishes: piece.finishes,
            })),
          })),
    current: currentFile(weld),
    supply: supplyFile(weld),
    electrodeRuling: {
      asks: ruling.asks,
      ...(ruling.carbonEquivalent === undefined ? {} : { carbonEquivalent: finite(ruling.carbonEquivalent) }),
      reason: showPhrase(ruling.reason, display),
      source: ruling.source,
      standing: ruling.standing,
    },
    /** By every formula, where a composition is given; the short form only where it does not flatter. */
    ...(figures === null
      ? {}
      : {
          carbonEquivalents: {
            iiw: finite(figures.iiw),
            aws: finite(figures.aws),
            pcm: finite(figures.pcm),
            cet: finite(figures.cet),
            ...(figures.short.kind === 'value' ? { short: finite(figures.short.value) } : {}),
          },
        }),
    testPlates: weld.testPlates.map((plate) => ({
      position: plate.aws,
      asked: [...plate.asked],
      lengthMm: finite(plate.length),
    })),
    holds: weld.holds.map(({ hold, before, seen }) => ({ hold, before, seen })),
    notes: weld.notes.map((note) => showPhrase(note, display)),
  };
}

/** The window of the electrode and its middle; null where no row knows the electrode: the maker's sheet must give one. */
function currentFile({ current, supply }: WeldPlan) {
  if (current.kind !== 'window' || supply === null) return null;
  const { polarity, amperes } = current.row.value;
  return {
    polarity,
    leastAmperes: finite(amperes[0]),
    mostAmperes: finite(amperes[1]),
    amperes: finite(supply.amperes),
    heatKjPerMm: finite(supply.heatKjPerMm),
    source: current.row.source,
    standing: current.row.standing,
  };
}

function supplyFile({ supply }: WeldPlan) {
  if (supply === null) return null;
  const { lead } = supply;
  return {
    /** American wire gauge; absent where even the thickest single lead loses more than allowed. */
    ...(lead.kind === 'gauge' ? { leadGauge: lead.gauge } : {}),
    leadDropV: finite(lead.drop),
    leastLead: LEAST_LEAD.value,
    source: LEAST_LEAD.source,
  };
}
