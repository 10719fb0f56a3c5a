import { dot, sub, type Vec3 } from '../../geometry/math/vec.ts';
import { shearLimit, stressLimit, stressSource } from './basis.ts';
import { type Advice, type Check, check, type Term } from './check.ts';
import { normalLineForce, type WeldUse } from './checks-weld.ts';
import type { Case } from './input.ts';
import {
  distanceToMember,
  PANEL_SCREENING,
  type PanelPeak,
  type PanelResult,
  panelBending,
  punchingShear,
} from './panel.ts';
import { STEEL_E } from './pinplate-en.ts';
import type { Patch } from './platemoments.ts';
import { lineForceAt } from './weldgroup.ts';

/** Poisson's ratio of steel. EN 1993-1-1 3.2.6. */
const STEEL_NU = 0.3;

/**
 * The weld's line forces as patches of force square to the shell, in panel coordinates: x fore from the frame abaft, y along the
 * girth from the longitudinal inboard. What falls into one cell of the weld's own breadth (throat times sqrt2), counted from the
 * middle of the foot along and across it, makes one square patch of that breadth.
 */
export function weldPatches(c: Case, use: WeldUse): Patch[] {
  const { root, panel, weld, frame } = c.input;
  const { position, weight } = root.quadrature;
  const x0 = panel.fromFrame ?? panel.frameSpacing / 2;
  const y0 = panel.fromLongitudinal ?? panel.longitudinalSpacing / 2;
  const breadth = Math.SQRT2 * (typeof weld.throat === 'number' ? weld.throat : Math.max(...weld.throat));
  const cellOf = (u: number): number => Math.sign(u) * Math.round(Math.abs(u) / breadth); // alike on either side of the middle
  const cells = new Map<string, { force: number; length: number; x: number; y: number }>();
  for (let i = 0; i < weight.length; i++) {
    const p: Vec3 = [position[3 * i] as number, position[3 * i + 1] as number, position[3 * i + 2] as number];
    const w = weight[i] as number;
    const r = sub(p, panel.anchor);
    const key = `${cellOf(dot(r, frame.foot))} ${cellOf(dot(r, frame.face))}`;
    const cell = cells.get(key) ?? { force: 0, length: 0, x: 0, y: 0 };
    cell.force += w * dot(lineForceAt(use.group, p), panel.normal);
    cell.length += w;
    cell.x += w * dot(r, panel.fore);
    cell.y += w * dot(r, panel.girth);
    cells.set(key, cell);
  }
  return [...cells.values()].map(({ force, length, x, y }) => ({
    x: x0 + x / length,
    y: y0 + y / length,
    force,
    sizeX: breadth,
    sizeY: breadth,
  }));
}

/** The shell under the foot: punching shear round it, and the panel between frames and longitudinals as a screening. */
export function shellChecks(c: Case, use: WeldUse): Check[] {
  const { steel, panel } = c.input;
  const { shell } = steel;
  const normal = normalLineForce(c, use);
  let most = 0;
  let k = 0;
  normal.forEach((q, i) => {
    if (Math.abs(q) > most) {
      most = Math.abs(q);
      k = i;
    }
  });
  const standing = c.design.basis === 'bth-1' ? 'not-verified' : 'source';
  const shear = shearLimit(c.design, shell.yield);
  const fyTerm: Term = { symbol: 'F_y', name: 'yield stress of the shell', value: shell.yield, unit: 'MPa' };
  const tTerm: Term = { symbol: 't_s', name: 'thickness of the shell', value: shell.thickness, unit: 'mm' };
  const list: Check[] = [
    check({
      id: 'shell-punching',
      title: 'Shell sheared through round the foot',
      demand: punchingShear(most, shell.thickness),
      limit: shear,
      unit: 'MPa',
      basis: c.design.basis,
      source: `Mean shear on one cut through the plating; limit ${stressSource(c.design.basis)}`,
      standing,
      formula: 'q_n/t_s <= f_v',
      tex: String.raw`\frac{q_n}{t_s} \le f_v`,
      terms: [
        { symbol: 'q_n', name: 'line force of the weld square to the shell, greatest', value: most, unit: 'N/mm' },
        { symbol: 's', name: 'where, along the root', value: c.input.root.s[k] ?? 0, unit: 'mm' },
        tTerm,
        fyTerm,
        { symbol: 'f_v', name: 'shear limit of the basis', value: shear, unit: 'MPa' },
      ],
      remedy: [
        'Lengthen the foot, or fit a doubler: the shell needs about ',
        { mm: most / shear, digits: 1 },
        ' of sound plate.',
      ],
    }),
  ];
  const result = panelBending(
    { a: panel.frameSpacing, b: panel.longitudinalSpacing, thickness: shell.thickness, e: STEEL_E, nu: STEEL_NU },
    weldPatches(c, use),
  );
  return [...list, bending(c, result, 'simple'), bending(c, result, 'clamped')];
}

/** Where the lug stands between frames, where that is known. */
export function frameAdvice(c: Case): Advice[] {
  const { fromFrame, frameSpacing } = c.input.panel;
  if (fromFrame === undefined) return [];
  const distance = Math.abs(distanceToMember(fromFrame, frameSpacing));
  const half = c.input.lug.foot / 2;
  return [
    {
      id: 'shell-frame',
      title: 'Distance to the nearest frame',
      value: distance,
      usual: half,
      unit: 'mm',
      within: distance <= half,
      source: 'A lug is best set over a frame: common practice, no source',
      standing: 'common-practice',
      text: ['The nearest frame is ', { mm: distance, digits: 0 }, ' from the lug; a lug is best set over one.'],
    },
  ];
}

function bending(c: Case, result: PanelResult, edges: 'simple' | 'clamped'): Check {
  const { steel, panel } = c.input;
  const peak: PanelPeak = edges === 'simple' ? result.simplySupported : result.clamped;
  const present = panel.stressPresent ?? 0;
  const limit = stressLimit(c.design, steel.shell.yield);
  const placed = panel.fromFrame !== undefined || panel.fromLongitudinal !== undefined;
  const demand = peak.stress + present;
  return check({
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
        name: placed ? 'lug from the frame abaft' : 'lug in the middle of the panel: where the frames are is not given',
        value: panel.fromFrame ?? panel.frameSpacing / 2,
        unit: 'mm',
      },
      {
        symbol: 'y_0',
        name: placed ? 'lug from the longitudinal inboard' : 'and likewise between longitudinals',
        value: panel.fromLongitudinal ?? panel.longitudinalSpacing / 2,
        unit: 'mm',
      },
      { symbol: 'sigma_0', name: 'stress already in the shell, as given', value: present, unit: 'MPa' },
      {
        symbol: 'share',
        name: 'share of the weld that stands on this panel',
        value: result.shareInside,
        unit: 'share',
      },
    ],
    steps: [
      { symbol: 'x', formula: 'place of the greatest stress, from the frame abaft', value: peak.x, unit: 'mm' },
      { symbol: 'y', formula: 'and from the longitudinal inboard', value: peak.y, unit: 'mm' },
      { symbol: 'sigma_b', formula: 'series summed there', value: peak.stress, unit: 'MPa' },
    ],
    remedy: [
      'Move the lug over a frame or a longitudinal, or have an engineer work out the panel with a doubler or backing; alone it would need about ',
      { mm: steel.shell.thickness * Math.sqrt(demand / limit), digits: 0 },
      ' of plate.',
    ],
    screening: true,
  });
}
