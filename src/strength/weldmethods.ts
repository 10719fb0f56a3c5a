import type { Vec3 } from '../../geometry/math/vec.ts';
import { type AiscMethod, available, RUPTURE } from './basis.ts';
import type { Case } from './case.ts';
import { ratioOf, type Standing } from './check.ts';
import {
  at,
  enBeta,
  enWeakest,
  plateNormalOn,
  pullOf,
  sidewaysSenses,
  throatAt,
  weldLimitPerThroat,
  wetFactor,
} from './checks-weld.ts';
import {
  aiscWeldLineForce,
  aiscWeldStress,
  angleToAxis,
  directionalIncrease,
  enDirectionalUtilisation,
  enWeldLineForce,
  filletFrame,
  throatStressIn,
} from './directional.ts';
import { defaultFactors } from './factors.ts';
import { type InstantaneousResult, instantaneousCentre, LESIK_KENNEDY, type WeldElements } from './instantaneous.ts';
import { lineForceAt, loadWeldBed } from './weldgroup.ts';

export type WeldMethodId = 'elastic' | 'aisc-directional' | 'en-directional' | 'en-simplified' | 'instantaneous-centre';

/** One way to work out the strength of the foot weld, each with the load factor and the resistance of its own standard. */
export interface WeldMethod {
  readonly id: WeldMethodId;
  readonly title: string;
  readonly demand: number;
  readonly limit: number;
  readonly ratio: number;
  /** `share` where the method compares more than one stress: demand is then the greater of their uses, against 1. */
  readonly unit: 'N/mm' | 'N' | 'share';
  readonly source: string;
  readonly standing: Standing;
  /** Root sample where it is worst; null for a method that looks at the group as a whole. */
  readonly worst: number | null;
  /** True for a method that sees only part of the pull: its ratio says what that part takes. */
  readonly partial: boolean;
  /** The method of the job's design basis: the one its check is made by. */
  readonly isCheck: boolean;
  /** The greatest ratio of all. */
  readonly governs: boolean;
}

export interface WeldMethods {
  readonly methods: readonly WeldMethod[];
  /** Why the instantaneous centre is not among them; null where it is. */
  readonly instantaneousMissing: 'no-pull-in-the-plane' | 'moment-not-carried' | 'rounds-used-up' | null;
}

/** AISC's own way of counting: the job's where its basis is one of AISC's, else allowable strength with service loads. */
const aiscOf = (c: Case): AiscMethod => (c.design.basis === 'aisc-360-lrfd' ? 'lrfd' : 'asd');

/** What a standard's own load factor makes of the pull that the job's basis is checked with. */
function loadShare(c: Case, standard: 'aisc' | 'en'): number {
  const own = c.factors.load.value;
  if (standard === 'en') return c.design.basis === 'en-1993' ? 1 : defaultFactors('en-1993').load.value / own;
  return c.design.basis === 'aisc-360-asd' || c.design.basis === 'aisc-360-lrfd' ? 1 : 1 / own;
}

/**
 * The foot weld by every method side by side. The check stays that of the basis; the others show how much the method decides. Throats
 * are taken as they stand at each sample. Line forces are the elastic ones for all but the instantaneous centre, which is
 * meant for a pull in the group's own plane and takes the components in the plane of the plate alone.
 */
export function weldMethods(c: Case): WeldMethods {
  const aisc = aiscOf(c);
  const fu = enWeakest(c) * wetFactor(c);
  const beta = enBeta(c);
  const { gammaM2 } = c.design.en;
  const electrode = c.input.weld.electrode;
  const per = weldLimitPerThroat(c);
  const [aiscShare, enShare] = [loadShare(c, 'aisc'), loadShare(c, 'en')];
  const { root } = c.input;
  const n = root.s.length;
  const elastic: Worst = none();
  const directed: Worst = none();
  const enDirected: Worst = none();
  const enSimple: Worst = none();
  const aiscPer = aiscWeldLineForce(electrode, 1, aisc) * wetFactor(c);
  const groups = sidewaysSenses(c).map((sideways) => loadWeldBed(c.prepared.bed, pullOf(c, sideways), c.input.pin));
  for (let k = 0; k < n; k++) {
    const throat = throatAt(c, k);
    const fillet = filletFrame(at(root.normal, k), plateNormalOn(c, root.side[k] as number));
    const place = at(root.position, k);
    for (const group of groups) {
      const q = lineForceAt(group, place);
      const size = Math.hypot(q[0], q[1], q[2]);
      const gain = directionalIncrease(angleToAxis(q, fillet.axis));
      take(elastic, k, size, per * throat);
      take(directed, k, size * aiscShare, aiscPer * throat * gain);
      take(enSimple, k, size * enShare, enWeldLineForce(fu, beta, throat, gammaM2));
      const use = enDirectionalUtilisation(throatStressIn(fillet, q, throat), fu, beta, gammaM2) * enShare;
      take(enDirected, k, use, 1);
    }
  }
  const isEn = c.design.basis === 'en-1993';
  const directional = c.input.weld.directional === true && c.design.basis !== 'bth-1';
  const check: WeldMethodId = isEn
    ? directional
      ? 'en-directional'
      : 'en-simplified'
    : directional
      ? 'aisc-directional'
      : 'elastic';
  const format = aisc === 'lrfd' ? 'LRFD' : 'ASD, service loads';
  const enStanding = isEn ? 'source' : defaultFactors('en-1993').load.standing;
  const enNote = isEn ? '' : `; load factor ${defaultFactors('en-1993').load.value}, recalled`;
  const list: Made[] = [
    made('elastic', 'Elastic line forces, one strength in every direction', elastic, 'N/mm', {
      source: `Elastic weld group; limit of the basis, ${ELASTIC_LIMIT[c.design.basis]}`,
      standing: c.design.basis === 'bth-1' ? 'not-verified' : 'source',
    }),
    made('aisc-directional', `Elastic line forces, AISC strength by direction (${format})`, directed, 'N/mm', {
      source: 'AISC 360 J2.4, eq. J2-5; AISC itself allows the increase only where the welds deform alike',
      standing: 'source',
    }),
    made('en-directional', 'Elastic line forces, EN directional method', enDirected, 'share', {
      source: `EN 1993-1-8 4.5.3.2${enNote}`,
      standing: enStanding,
    }),
    made('en-simplified', 'Elastic line forces, EN simplified method', enSimple, 'N/mm', {
      source: `EN 1993-1-8 4.5.3.3${enNote}`,
      standing: enStanding,
    }),
  ];
  const centre = instantaneous(c, aisc, aiscShare);
  if ('method' in centre) list.push(centre.method);
  const most = Math.max(...list.map((m) => m.ratio));
  const first = list.findIndex((m) => m.ratio === most);
  return {
    methods: list.map((m, i) => ({ ...m, isCheck: m.id === check, governs: i === first })),
    instantaneousMissing: 'method' in centre ? null : centre.missing,
  };
}

type Made = Omit<WeldMethod, 'isCheck' | 'governs'>;

interface Worst {
  k: number;
  demand: number;
  limit: number;
  ratio: number;
}

const none = (): Worst => ({ k: 0, demand: 0, limit: 1, ratio: -1 });

function take(worst: Worst, k: number, demand: number, limit: number): void {
  const ratio = demand / limit;
  if (!(ratio > worst.ratio)) return;
  worst.k = k;
  worst.demand = demand;
  worst.limit = limit;
  worst.ratio = ratio;
}

const made = (
  id: WeldMethodId,
  title: string,
  { k, demand, limit }: Worst,
  unit: WeldMethod['unit'],
  from: Pick<WeldMethod, 'source' | 'standing'>,
): Made => ({ id, title, demand, limit, ratio: ratioOf(demand, limit), unit, ...from, worst: k, partial: false });

const ELASTIC_LIMIT: Readonly<Record<Case['design']['basis'], string>> = {
  'aisc-360-asd': 'AISC 360 J2.4, 0.60 of the tensile strength of the weld metal, over 2.00',
  'aisc-360-lrfd': 'AISC 360 J2.4, 0.75 x 0.60 of the tensile strength of the weld metal',
  'en-1993': 'EN 1993-1-8 eq. 4.4',
  'bth-1': 'ASME BTH-1 3-3.4 (recalled)',
};

/** Relative change of the strength that ends its iteration: well under what the published tables were made to (three figures). */
const CENTRE_TOLERANCE = 2e-4;

type Centre = { readonly method: Made } | { readonly missing: NonNullable<WeldMethods['instantaneousMissing']> };

function instantaneous(c: Case, aisc: AiscMethod, share: number): Centre {
  const force = pullOf(c, 0);
  const size = Math.hypot(force[0], force[1], force[2]);
  if (!(size > 0)) return { missing: 'no-pull-in-the-plane' };
  const result: InstantaneousResult = instantaneousCentre(
    rootElements(c),
    force,
    c.input.pin,
    LESIK_KENNEDY,
    CENTRE_TOLERANCE,
  );
  if (!result.converged) return { missing: result.reason };
  const { throat } = c.input.weld;
  // The method knows one leg all round: the least throat of the root.
  const least = typeof throat === 'number' ? throat : throat.reduce((a, b) => Math.min(a, b));
  const nominal = result.coefficient * aiscWeldStress(c.input.weld.electrode) * least * wetFactor(c);
  const limit = nominal * available(aisc, RUPTURE);
  const demand = size * share;
  return {
    method: {
      id: 'instantaneous-centre',
      title: 'Instantaneous centre, the part of the pull in the plane of the plate alone',
      demand,
      limit,
      ratio: ratioOf(demand, limit),
      unit: 'N',
      source: 'AISC 360 J2.4 with the load-deformation curve of Lesik and Kennedy; the sideways part is left out',
      standing: 'source',
      worst: null,
      partial: true,
    },
  };
}

/**
 * Breaks of a side into elements, shares of its length: fine towards the corners, where the first element to fracture lies, coarse
 * between. A short side, across the thickness, is cut evenly.
 */
const BREAKS = [
  0, 0.01, 0.03, 0.06, 0.1, 0.16, 0.24, 0.33, 0.42, 0.5, 0.58, 0.67, 0.76, 0.84, 0.9, 0.94, 0.97, 0.99, 1,
];
const SHORT_BREAKS = [0, 0.25, 0.5, 0.75, 1];
/** A side shorter than this share of the longest counts as short. */
const SHORT = 0.4;

/** The root as straight elements, side by side; places between its samples by straight lines. */
function rootElements(c: Case): WeldElements {
  const { position, side, s } = c.input.root;
  const sides: { readonly first: number; readonly last: number }[] = [];
  let first = 0;
  for (let k = 1; k <= s.length; k++) {
    if (k < s.length && side[k] === side[first]) continue;
    if (k - 1 > first) sides.push({ first, last: k - 1 });
    first = k;
  }
  const lengthOf = (each: (typeof sides)[number]): number => (s[each.last] as number) - (s[each.first] as number);
  const longest = Math.max(...sides.map(lengthOf));
  const x: number[] = [];
  const axis: number[] = [];
  const ds: number[] = [];
  for (const each of sides) {
    const length = lengthOf(each);
    const breaks = length < SHORT * longest ? SHORT_BREAKS : BREAKS;
    let k = each.first;
    const placeAt = (share: number): Vec3 => {
      const wanted = (s[each.first] as number) + share * length;
      while (k < each.last - 1 && (s[k + 1] as number) < wanted) k++;
      const [p, q] = [at(position, k), at(position, k + 1)];
      const f = (wanted - (s[k] as number)) / ((s[k + 1] as number) - (s[k] as number));
      return [p[0] + f * (q[0] - p[0]), p[1] + f * (q[1] - p[1]), p[2] + f * (q[2] - p[2])];
    };
    let p = placeAt(0);
    for (const share of breaks.slice(1)) {
      const q = placeAt(share);
      const d: Vec3 = [q[0] - p[0], q[1] - p[1], q[2] - p[2]];
      const l = Math.hypot(d[0], d[1], d[2]);
      x.push((p[0] + q[0]) / 2, (p[1] + q[1]) / 2, (p[2] + q[2]) / 2);
      axis.push(d[0] / l, d[1] / l, d[2] / l);
      ds.push(l);
      p = q;
    }
  }
  return { x: Float64Array.from(x), axis: Float64Array.from(axis), ds: Float64Array.from(ds) };
}
