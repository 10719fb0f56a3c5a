import { stressLimit, stressSource } from './basis.ts';
import type { Case } from './case.ts';
import { type Check, strengthCheck } from './check.ts';
import { weldLimitPerThroat } from './checks-weld.ts';
import { ringWeldLineForce, shareByThickness } from './cheek.ts';
import { type SectionStress, sectionStress, widthAt, worstNeck } from './lugsection.ts';

/** The lug as a cantilever off the shell: elastic stress at the foot, at the shoulder and at the worst place of the neck. */
export function lugSectionChecks(c: Case): Check[] {
  const { lug, steel } = c.input;
  const limit = stressLimit(c.design, steel.lug.yield);
  const one = (id: string, title: string, height: number, width: number, stress: SectionStress): Check => {
    const arm = lug.pinHeight - height;
    const first = strengthCheck({
      id,
      title,
      demand: stress.equivalent,
      limit,
      unit: 'MPa',
      basis: c.design.basis,
      source: `Elastic bending, equivalent stress after von Mises; limit ${stressSource(c.design.basis)}`,
      standing: c.design.basis === 'bth-1' ? 'not-verified' : 'source',
      formula: 'sqrt((P/(w t) + 6 V h/(t w^2) + 6 H h/(w t^2))^2 + 3 tau^2) <= f',
      tex: String.raw`\sqrt{\left(\frac{P}{w t} + \frac{6 V h}{t w^2} + \frac{6 H h}{w t^2}\right)^2 + 3\tau^2} \le f`,
      terms: [
        { symbol: 'P', name: 'pull along the stem', value: Math.abs(c.load.alongStem), unit: 'N' },
        { symbol: 'V', name: 'pull along the foot', value: Math.abs(c.load.alongFoot), unit: 'N' },
        {
          symbol: 'H',
          name: c.load.allowanceGoverns
            ? `pull across the plate: the allowance of ${Number((c.factors.sidewaysAllowance.value * 100).toPrecision(6))} % of the pull, more than the direction gives; the same to either side`
            : 'pull across the plate, as the direction gives it',
          value: Math.abs(c.load.sideways),
          unit: 'N',
        },
        { symbol: 'h', name: 'from the section to the pin', value: arm, unit: 'mm' },
        { symbol: 'w', name: 'width of the section', value: width, unit: 'mm' },
        { symbol: 't', name: 'lug thickness', value: lug.thickness, unit: 'mm' },
        { symbol: 'F_y', name: 'yield stress of the lug', value: steel.lug.yield, unit: 'MPa' },
        { symbol: 'f', name: 'stress limit of the basis', value: limit, unit: 'MPa' },
      ],
      steps: [
        { symbol: 'sigma_P', formula: 'P/(w t)', value: stress.direct, unit: 'MPa' },
        { symbol: 'sigma_V', formula: '6 V h/(t w^2)', value: stress.inPlane, unit: 'MPa' },
        { symbol: 'sigma_H', formula: '6 H h/(w t^2)', value: stress.outOfPlane, unit: 'MPa' },
        { symbol: 'tau', formula: 'sqrt(V^2 + H^2)/(w t)', value: stress.shear, unit: 'MPa' },
      ],
    });
    if (first.pass) return first;
    const sideways = stress.outOfPlane >= stress.inPlane && stress.outOfPlane >= stress.direct;
    return {
      ...first,
      remedy: sideways
        ? [
            'Bring the load line into the plane of the lug, shorten the lug, or thicken it to about ',
            {
              mm: lug.thickness * Math.sqrt(first.ratio),
              digits: 0,
              bound: 'least',
            },
            '.',
          ]
        : ['Lengthen the foot, shorten the lug or thicken it, or point the stem at the load.'],
    };
  };
  const at = (height: number) => sectionStress(c.load, lug.pinHeight - height, widthAt(lug, height), lug.thickness);
  const neck = worstNeck(lug, c.load);
  const list = [
    one('lug-foot', 'The plate at its foot', 0, lug.foot, at(0)),
    one('lug-shoulder', 'The plate at its shoulder', lug.shoulder, widthAt(lug, lug.shoulder), at(lug.shoulder)),
  ];
  if (neck.height > lug.shoulder) {
    list.push(
      one('lug-neck', 'The plate at the worst place of its taper', neck.height, widthAt(lug, neck.height), neck.stress),
    );
  }
  return list;
}

/** mm. What a fillet along a plate's edge leaves of the edge, so that it is seen: AISC 360 J2.2b, for plates of 6 mm and more; recalled. */
const EDGE_LEFT = 2;

/** The ring weld of the cheek plates: each carries its share of the pull by thickness. */
export function cheekChecks(c: Case): Check[] {
  const { cheek, lug } = c.input;
  if (!cheek) return [];
  const shares = shareByThickness(c.load.force, [lug.thickness, cheek.thickness, cheek.thickness]);
  const share = shares[1] as number;
  const q = ringWeldLineForce(share, cheek.radius, cheek.thickness);
  const largest = cheek.thickness >= 6 ? cheek.thickness - EDGE_LEFT : cheek.thickness;
  const leg = cheek.leg ?? largest;
  const per = weldLimitPerThroat(c);
  const limit = (per * leg) / Math.SQRT2;
  const legNeeded = (q * Math.SQRT2) / per;
  return [
    strengthCheck({
      id: 'cheek-weld',
      title: 'Ring weld of a cheek plate',
      demand: q,
      limit,
      unit: 'N/mm',
      basis: c.design.basis,
      source:
        'Weld as a line (ring: length 2πR, section modulus πR², R the cheek radius); share of the pull by thickness; weld as the foot weld',
      standing: c.design.basis === 'bth-1' || cheek.leg === undefined ? 'not-verified' : 'source',
      formula: 'sqrt((F_c/(2 pi R_c))^2 + (F_c t_c/2/(pi R_c^2))^2) <= f_w z/sqrt2',
      tex: String.raw`\sqrt{\left(\frac{F_c}{2\pi R_c}\right)^2 + \left(\frac{F_c\,t_c/2}{\pi R_c^2}\right)^2} \le \frac{f_w\,z}{\sqrt 2}`,
      terms: [
        { symbol: 'F', name: 'pull with its factors', value: c.load.force, unit: 'N' },
        { symbol: 't', name: 'lug thickness', value: lug.thickness, unit: 'mm' },
        { symbol: 't_c', name: 'cheek thickness (two)', value: cheek.thickness, unit: 'mm' },
        { symbol: 'R_c', name: 'cheek radius', value: cheek.radius, unit: 'mm' },
        {
          symbol: 'z',
          name:
            cheek.leg === undefined
              ? 'leg: the largest the edge takes, none is given (AISC 360 J2.2b, recalled)'
              : 'leg of the ring weld',
          value: leg,
          unit: 'mm',
        },
        { symbol: 'f_w', name: 'limit of the weld on its throat', value: per, unit: 'MPa' },
      ],
      steps: [
        { symbol: 'F_c', formula: 'F t_c/(t + 2 t_c)', value: share, unit: 'N' },
        { symbol: 'z_needed', formula: 'sqrt2 q/f_w', value: legNeeded, unit: 'mm' },
      ],
      remedy: ['The ring weld needs a leg of at least ', { mm: legNeeded, digits: 1, bound: 'least' }, '.'],
    }),
  ];
}
