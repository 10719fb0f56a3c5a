import { SIDES } from '../../geometry/fit/rootline.ts';
import { showPhrase } from '../job/show.ts';
import type { Display } from '../job/types.ts';
import { fileUnit, finite, inFileUnit, kilonewtons, vector } from './filefigures.ts';
import type { FittingPlan } from './types.ts';

/** `strength` of the plan file: the weld group under the job's load alone, and what the checks were worked with. */
export function strengthFile(fitting: FittingPlan, display: Display) {
  const { weldGroup, load, factors, methods, toes, shell, advice } = fitting.strength;
  const { worst } = weldGroup;
  return {
    weldGroup: {
      lengthMm: finite(weldGroup.length),
      centroidMm: vector(weldGroup.centroid),
      worst: { sMm: finite(worst.s), side: worst.side, forceNPerMm: finite(worst.force) },
    },
    /** With every factor of the job, the sideways allowance where it is more than the pull gives. */
    checkedLoad: {
      alongStemKn: kilonewtons(load.alongStem),
      alongFootKn: kilonewtons(load.alongFoot),
      sidewaysKn: kilonewtons(load.sideways),
      forceKn: kilonewtons(load.force),
      factor: finite(load.factor),
      sidewaysOfPullKn: kilonewtons(load.sidewaysActual),
      sidewaysAllowanceKn: kilonewtons(load.sidewaysAllowed),
      allowanceGoverns: load.allowanceGoverns,
    },
    factors: Object.fromEntries(
      Object.entries(factors).map(([name, each]) => [
        name,
        { value: finite(each.value), reason: each.reason, standing: each.standing },
      ]),
    ),
    methods: methods.methods.map((m) => ({
      id: m.id,
      title: m.title,
      demand: finite(m.demand),
      limit: finite(m.limit),
      ratio: finite(m.ratio),
      unit: m.unit,
      source: m.source,
      standing: m.standing,
      isCheck: m.isCheck,
      governs: m.governs,
      partial: m.partial,
      /** Absent for a method that looks at the group as a whole. */
      ...(m.worst === null ? {} : { worst: rootPlace(fitting, m.worst) }),
    })),
    ...(methods.instantaneousMissing === null ? {} : { instantaneousCentreMissing: methods.instantaneousMissing }),
    toes: {
      order: toes.toes.map((toe) => ({
        corner: toe.corner,
        sMm: finite(toe.s),
        side: SIDES[toe.side] as string,
        forceNPerMm: finite(toe.force),
        ratio: finite(toe.utilisation),
      })),
      overNextShare: finite(toes.overNext),
      withSidewaysNPerMm: finite(toes.withSideways),
      withoutSidewaysNPerMm: finite(toes.withoutSideways),
      sidewaysShare: finite(toes.sidewaysShare),
      text: showPhrase(toes.text, display),
    },
    shell: {
      screening: true,
      doublerMm: finite(shell.doubler),
      member: shell.member,
      bounds: shell.gains.map((gain) => ({
        edges: gain.edges,
        stressMpa: finite(gain.stress),
        withDoublerMpa: finite(gain.doubled),
        ...(gain.overMember === undefined ? {} : { overMemberMpa: finite(gain.overMember) }),
        limitMpa: finite(gain.limit),
      })),
      stillToDo: shell.stillToDo,
    },
    advice: advice.map((each) => ({
      id: each.id,
      title: each.title,
      value: inFileUnit(each.value, each.unit),
      usual: inFileUnit(each.usual, each.unit),
      unit: fileUnit(each.unit),
      within: each.within,
      source: each.source,
      standing: each.standing,
      text: showPhrase(each.text, display),
    })),
  };
}

function rootPlace({ root }: FittingPlan, k: number) {
  return { sMm: finite(root.s[k] as number), side: SIDES[root.side[k] as number] as string };
}
