import { dot } from '../../geometry/math/vec.ts';
import type { Phrase } from '../../geometry/phrase.ts';
import { shearLimit, shearSource, stressLimit, stressSource } from './basis.ts';
import type { Case } from './case.ts';
import { type Advice, type Check, strengthCheck, type Term } from './check.ts';
import { acrossTerm, normalLineForce, TIE, type WeldUse } from './checks-weld.ts';
import { distanceToMember, PANEL_SCREENING, punchingShear } from './panel.ts';
import type { Patch } from './platemoments.ts';
import { anchorOn, memberAlong, type PlacedPanel, type PlacedPeak, standsOnMember } from './prepared.ts';
import { cellPatches, patchLayout } from './shellpatches.ts';

/** The weld's line forces as patches of force square to the shell, where the lug stands: see `cellPatches`. */
export function weldPatches(c: Case, use: WeldUse): Patch[] {
  const { x, y } = anchorOn(c.input);
  return cellPatches(patchLayout(c.input), use.group, x, y);
}

/** What would help the shell, MPa beside what it has now: figures of the same screening. */
export interface ShellGain {
  readonly edges: 'simple' | 'clamped';
  /** MPa as it stands. */
  readonly stress: number;
  /** MPa with a doubler over the whole panel. */
  readonly doubled: number;
  /** MPa with the lug over the member that runs along its foot; absent where the panel is far from its limit. */
  readonly overMember?: number;
  readonly limit: number;
}

/** The two ways out for the shell, beside its screening checks. */
export interface ShellGains {
  /** mm: a doubler as thick as the shell. */
  readonly doubler: number;
  /** The member that runs more nearly along the foot. */
  readonly member: 'frame' | 'longitudinal';
  /** True where the lug stands over it already. */
  readonly onMember: boolean;
  readonly gains: readonly ShellGain[];
  /** What the engineer has still to do. */
  readonly stillToDo: string;
}

/**
 * Share of the bending that the shell keeps under a doubler that bends with it: both take one curvature, so each takes the moment in
 * the ratio of its stiffness, t_s^3/(t_s^3 + t_d^3). Plate theory; no shear between them is counted on.
 */
export const shareUnderDoubler = (shell: number, doubler: number): number => shell ** 3 / (shell ** 3 + doubler ** 3);

/** The shell under the foot: punching shear round it, the panel between frames and longitudinals as a screening, and what would help it. */
export function shellChecks(c: Case, use: WeldUse): { readonly checks: readonly Check[]; readonly gains: ShellGains } {
  const { steel } = c.input;
  const { shell } = steel;
  const normal = normalLineForce(c, use);
  // Of points as good as equal, the one where the weld is worst too: both checks then speak of one place.
  let k = use.worst.index;
  let most = Math.abs(normal[k] as number);
  normal.forEach((q, i) => {
    if (Math.abs(q) > most * TIE) {
      most = Math.abs(q);
      k = i;
    }
  });
  const standing = c.design.basis === 'bth-1' ? 'not-verified' : 'source';
  const shear = shearLimit(c.design, shell.yield);
  const fyTerm: Term = { symbol: 'F_y', name: 'yield stress of the shell', value: shell.yield, unit: 'MPa' };
  const tTerm: Term = { symbol: 't_s', name: 'thickness of the shell', value: shell.thickness, unit: 'mm' };
  const list: Check[] = [
    strengthCheck({
      id: 'shell-punching',
      title: 'Shell sheared through round the foot',
      demand: punchingShear(most, shell.thickness),
      limit: shear,
      unit: 'MPa',
      basis: c.design.basis,
      source: `Mean shear on one cut through the plating; limit ${shearSource(c.design.basis)}`,
      standing,
      formula: 'q_n/t_s <= f_v',
      tex: String.raw`\frac{q_n}{t_s} \le f_v`,
      terms: [
        {
          symbol: 'q_n',
          name: c.load.allowanceGoverns
            ? 'line force of the weld square to the shell, greatest with the allowance to either side'
            : 'line force of the weld square to the shell, greatest',
          value: most,
          unit: 'N/mm',
        },
        { symbol: 's', name: 'where, along the root', value: c.input.root.s[k] ?? 0, unit: 'mm' },
        tTerm,
        fyTerm,
        { symbol: 'f_v', name: 'shear limit of the basis', value: shear, unit: 'MPa' },
      ],
      remedy: [
        'Lengthen the foot, or fit a doubler: the shell needs about ',
        { mm: most / shear, digits: 1, bound: 'least' },
        ' of sound plate.',
      ],
    }),
  ];
  const groups = use.senses.map(({ group }) => group);
  const result = c.prepared.bending('as-it-stands', groups);
  const alone = [gainOf(c, 'simple', result), gainOf(c, 'clamped', result)] as const;
  const near = alone.some((gain) => gain.stress >= MOVE_FROM * gain.limit);
  const over = standsOnMember(c.input) ? result : near ? c.prepared.bending('over-the-member', groups) : undefined;
  const gains = [gainOf(c, 'simple', result, over), gainOf(c, 'clamped', result, over)] as const;
  return {
    checks: [...list, bending(c, use, result, gains[0]), bending(c, use, result, gains[1])],
    gains: {
      doubler: shell.thickness,
      member: memberAlong(c.input),
      onMember: standsOnMember(c.input),
      gains,
      stillToDo: PANEL_SCREENING,
    },
  };
}

/** Share of the limit from which it is worked out what moving the lug onto a member would gain: nobody moves it for less. A choice. */
export const MOVE_FROM = 0.8;

const peakOf = (result: PlacedPanel, edges: ShellGain['edges']): PlacedPeak =>
  edges === 'simple' ? result.simplySupported : result.clamped;

function gainOf(c: Case, edges: ShellGain['edges'], here: PlacedPanel, over?: PlacedPanel): ShellGain {
  const { shell } = c.input.steel;
  const present = c.input.panel.stressPresent ?? 0;
  const stress = peakOf(here, edges).stress;
  return {
    edges,
    stress: stress + present,
    doubled: stress * shareUnderDoubler(shell.thickness, shell.thickness) + present,
    ...(over && { overMember: peakOf(over, edges).stress + present }),
    limit: stressLimit(c.design, shell.yield),
  };
}

/** Where the lug stands between frames, where that is known. */
export function frameAdvice(c: Case): Advice[] {
  const { fromFrame, frameSpacing } = c.input.panel;
  if (fromFrame === undefined) return [];
  const distance = Math.abs(distanceToMember(fromFrame, frameSpacing));
  const { frame, lug, panel } = c.input;
  // How far the footprint reaches along the ship, whichever way the foot runs.
  const half =
    (Math.abs(dot(frame.foot, panel.fore)) * lug.foot + Math.abs(dot(frame.face, panel.fore)) * lug.thickness) / 2;
  return [
    {
      id: 'shell-frame',
      title: 'Distance to the nearest frame',
      value: distance,
      usual: half,
      unit: 'mm',
      within: distance <= half,
      source:
        'A lug is best set over a frame, so that the frame lies under its foot: usual is half of what the foot covers along the ship at most; common practice, no source',
      standing: 'common-practice',
      text: distance < 0.5 ? ['It stands on a frame.'] : ['The nearest frame is ', { mm: distance }, ' from the lug.'],
    },
  ];
}

function overInWords(c: Case, gain: ShellGain): Phrase {
  const member = memberAlong(c.input);
  if (standsOnMember(c.input)) return [`It stands over a ${member} already`];
  if (gain.overMember === undefined) return [`It may be set over a ${member}`];
  return [
    `Set over a ${member} it would come to `,
    { mpa: gain.overMember, digits: 1 },
    against(gain.overMember, gain.limit),
  ];
}

/** Whether a stress would do: a remedy that does not is no remedy by itself. */
const against = (stress: number, limit: number): string =>
  stress > limit ? ' and would still be over the limit' : ' and would pass';

/** Free edges do not bend the plate along them, they twist it. */
const placeName = (edges: ShellGain['edges'], { atEdge }: PlacedPeak): string =>
  `place of the greatest stress${edges === 'simple' && atEdge ? ', by twist alone' : ''}`;

/** How far a lug stands from a member of the panel that governs: as given, or said to be taken at mid-panel. */
const distanceName = (given: boolean, from: string): string =>
  given
    ? `lug from the ${from} of the panel that governs`
    : `lug from the ${from} of the panel that governs: not given, taken at mid-panel`;

/** mm. What is nearer the keel's line lies on it. */
const ON_KEEL = 1;

/** Said where the panel reaches past the keel: there it is no plate in one plane, and what stiffens a keel is not known. */
const pastKeel = (y: number, fromKeel: number | undefined): string =>
  fromKeel !== undefined && y > fromKeel + ON_KEEL
    ? '; that member lies PAST THE KEEL, the panel is taken flat across it and the keel for no support'
    : '';

function bending(c: Case, use: WeldUse, result: PlacedPanel, gain: ShellGain): Check {
  const { steel, panel } = c.input;
  const { edges, limit } = gain;
  const peak = peakOf(result, edges);
  const present = panel.stressPresent ?? 0;
  const member = memberAlong(c.input);
  const demand = gain.stress;
  return strengthCheck({
    id: edges === 'simple' ? 'shell-bending' : 'shell-bending-clamped',
    title:
      edges === 'simple'
        ? 'Shell panel bent by the lug, edges free to turn (screening)'
        : 'Shell panel bent by the lug, edges held from turning (screening)',
    demand,
    limit,
    unit: 'MPa',
    basis: c.design.basis,
    source:
      edges === 'simple'
        ? `Navier's series, Timoshenko and Woinowsky-Krieger sections 28 to 30; limit ${stressSource(c.design.basis)}. ${PANEL_SCREENING}`
        : `Edge moments superposed, Timoshenko and Woinowsky-Krieger section 44; limit ${stressSource(c.design.basis)}. ${PANEL_SCREENING}`,
    standing: c.design.basis === 'bth-1' ? 'not-verified' : 'source',
    formula: '6/t_s^2 sqrt(m_x^2 + m_y^2 - m_x m_y + 3 m_xy^2) + sigma_0 <= f',
    tex: String.raw`\frac{6}{t_s^2}\sqrt{m_x^2 + m_y^2 - m_x m_y + 3 m_{xy}^2} + \sigma_0 \le f`,
    terms: [
      { symbol: 'a', name: 'frame spacing', value: panel.frameSpacing, unit: 'mm' },
      { symbol: 'b', name: 'spacing of longitudinals', value: panel.longitudinalSpacing, unit: 'mm' },
      { symbol: 't_s', name: 'thickness of the shell', value: steel.shell.thickness, unit: 'mm' },
      { symbol: 'F_y', name: 'yield stress of the shell', value: steel.shell.yield, unit: 'MPa' },
      {
        symbol: 'x_0',
        name: distanceName(panel.fromFrame !== undefined, 'frame abaft'),
        value: peak.anchor.x,
        unit: 'mm',
      },
      {
        symbol: 'y_0',
        name: `${distanceName(panel.fromLongitudinal !== undefined, 'longitudinal inboard')}${pastKeel(peak.anchor.y, panel.fromKeel)}`,
        value: peak.anchor.y,
        unit: 'mm',
      },
      acrossTerm(c, use.senses[peak.group]?.sideways ?? use.sideways),
      { symbol: 'sigma_0', name: 'stress already in the shell', value: present, unit: 'MPa' },
      {
        symbol: 'share',
        name: 'share of the line force square to the shell, pull and push counted alike, that stands on this panel',
        value: peak.shareInside,
        unit: 'share',
      },
    ],
    steps: [
      { symbol: 'x', formula: `${placeName(edges, peak)}, from the frame abaft`, value: peak.x, unit: 'mm' },
      { symbol: 'y', formula: 'and from the longitudinal inboard', value: peak.y, unit: 'mm' },
      { symbol: 'sigma_b', formula: 'series summed there', value: peak.stress, unit: 'MPa' },
      {
        symbol: 'sigma_d',
        formula: 'sigma_b t_s^3/(t_s^3 + t_d^3) + sigma_0 with a doubler t_d = t_s that bends with the whole panel',
        value: gain.doubled,
        unit: 'MPa',
      },
      ...(gain.overMember === undefined || standsOnMember(c.input)
        ? []
        : [
            {
              symbol: 'sigma_m',
              formula: `series summed with the lug over a ${member}, + sigma_0`,
              value: gain.overMember,
              unit: 'MPa',
            } as const,
          ]),
    ],
    remedy: [
      ...overInWords(c, gain),
      `; with a doubler as thick as the shell from member to member, both bending alike, `,
      { mpa: gain.doubled, digits: 1 },
      against(gain.doubled, limit),
      '; limit ',
      { mpa: limit, digits: 1 },
      ...(present < limit
        ? [
            '. Bare, it takes about ',
            {
              mm: steel.shell.thickness * Math.sqrt(peak.stress / (limit - present)),
              digits: 0,
              bound: 'least',
            } as const,
            ' of plate.',
          ]
        : ['. What is in the shell already takes all of the limit.']),
    ],
    screening: true,
  });
}
