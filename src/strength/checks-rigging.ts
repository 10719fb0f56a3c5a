import type { Phrase } from '../../geometry/phrase.ts';
import type { Case } from './case.ts';
import { type Advice, type Check, strengthCheck } from './check.ts';
import { reachAlong } from './lugsection.ts';
import { jawFilled, reachToShell, SIDE_LOAD_BANDS, shackleSize, sideLoadShare } from './shackle.ts';

const TRADE = 'trade';

/** Checks that only ask whether shackle and plate go together: no pull and no way of standing comes into them. */
export const GOES_TOGETHER: ReadonlySet<string> = new Set(['shackle-missing', 'shackle-pin', 'shackle-jaw']);

/** Checks of how the bow lies, which ask for the direction of the pull alone: no strength. */
export const BOW_LIES: ReadonlySet<string> = new Set(['shackle-bow', 'shackle-shell']);

/** Shackle and hoist against their working load limits, and whether the shackle goes on the lug. */
export function riggingChecks(c: Case): { readonly checks: readonly Check[]; readonly advice: readonly Advice[] } {
  const checks: Check[] = [];
  const advice: Advice[] = [];
  const { shackle, hoist } = c.input;
  if (shackle) {
    checks.push(...shackleStrength(c, shackle));
    const fit = shackleFit(c, shackle);
    checks.push(...fit.checks);
    advice.push(...fit.advice);
  } else {
    advice.push({
      id: 'shackle-missing',
      title: 'Shackle',
      value: c.pin,
      usual: c.pin,
      unit: 'mm',
      within: false,
      source: 'The job names no shackle',
      standing: 'choice',
      text: [
        'No shackle is given: the pin is taken as ',
        { mm: c.pin, digits: 1 },
        ' and neither its strength nor its fit is checked.',
      ],
    });
  }
  if (hoist) checks.push(hoistCheck(c, hoist.wll));
  return { checks, advice };
}

type Shackle = NonNullable<Case['input']['shackle']>;

function shackleStrength(c: Case, shackle: Shackle): Check[] {
  const share = sideLoadShare(c.input.offPlane, c.input.sideLoadBands ?? SIDE_LOAD_BANDS);
  return [
    strengthCheck({
      id: 'shackle-wll',
      title: 'Shackle at the angle of the pull',
      demand: c.service.force,
      limit: shackle.wll * share,
      unit: 'N',
      basis: TRADE,
      source:
        'Side pull on a shackle: 100 % in line, 70 % to 45 deg, 50 % to 90 deg (makers, RR-C-271 sizes; bands of a state rule after ASME B30.26)',
      standing: 'source',
      formula: 'F <= k WLL',
      tex: String.raw`F \le k(\beta)\,\mathrm{WLL}`,
      terms: [
        { symbol: 'F', name: 'pull, service load', value: c.service.force, unit: 'N' },
        { symbol: 'WLL', name: 'working load limit of the shackle', value: shackle.wll, unit: 'N' },
        { symbol: 'beta', name: 'pull off the plane of the lug', value: Math.abs(c.input.offPlane), unit: 'rad' },
        { symbol: 'k', name: 'share left at that angle', value: share, unit: 'share' },
      ],
      remedy: ['Take a larger shackle, or bring the load line into the plane of the lug.'],
    }),
  ];
}

function shackleFit(c: Case, shackle: Shackle): { checks: Check[]; advice: Advice[] } {
  const { lug, cheek, inPlane, fitLimits } = c.input;
  const plate = lug.thickness + 2 * (cheek?.thickness ?? 0);
  const size = shackleSize(shackle.wll, shackle.pin);
  const inside = shackle.insideLength ?? size?.insideBow;
  const clearance = (lug.hole - shackle.pin) / shackle.pin;
  const filled = jawFilled(plate, shackle.jaw);
  const checks: Check[] = [
    strengthCheck({
      id: 'shackle-pin',
      title: 'Pin through the hole',
      demand: shackle.pin,
      limit: lug.hole,
      unit: 'mm',
      basis: TRADE,
      source: 'Plain geometry',
      standing: 'source',
      formula: 'd <= d_h',
      tex: String.raw`d \le d_h`,
      terms: [
        { symbol: 'd', name: 'pin', value: shackle.pin, unit: 'mm' },
        { symbol: 'd_h', name: 'pin hole', value: lug.hole, unit: 'mm' },
      ],
      remedy: ['Make the hole at least ', { mm: shackle.pin, digits: 1 }, ' and its clearance.'],
    }),
    strengthCheck({
      id: 'shackle-jaw',
      title: 'Plate and cheeks between the jaws',
      demand: plate,
      limit: shackle.jaw,
      unit: 'mm',
      basis: TRADE,
      source: 'Plain geometry',
      standing: 'source',
      formula: 't + 2 t_c <= A',
      tex: String.raw`t + 2 t_c \le A`,
      terms: [
        { symbol: 't', name: 'lug thickness', value: lug.thickness, unit: 'mm' },
        { symbol: 't_c', name: 'cheek thickness (two)', value: cheek?.thickness ?? 0, unit: 'mm' },
        { symbol: 'A', name: 'clear width of the jaw', value: shackle.jaw, unit: 'mm' },
      ],
      remedy: ['Take a wider shackle or thinner cheek plates.'],
    }),
  ];
  const advice: Advice[] = [];
  // A limit that the user has set is a check; a figure from rules for other lifts than this is not.
  const held = (
    id: string,
    title: string,
    value: number,
    usual: number,
    most: boolean,
    own: number | undefined,
    source: string,
  ): void => {
    const tooWide = !most && value > 1;
    const text: Phrase = most
      ? [{ share: value, digits: 1 }, ' of the pin; usual is no more than ', { share: own ?? usual, digits: 1 }, '.']
      : tooWide
        ? [
            { share: value, digits: 1 },
            ' of the jaw: the plate does not go between the jaws. Take a wider shackle or thinner cheek plates.',
          ]
        : [
            { share: value, digits: 1 },
            ' of the jaw; usual is at least ',
            { share: own ?? usual, digits: 1 },
            ' and no more than all of it. Spacers keep the lug in the middle.',
          ];
    // A plate that does not go in has no filling to be held against a limit: the width of the jaw fails.
    if (own === undefined || tooWide) {
      advice.push({
        id,
        title,
        value,
        usual: tooWide ? 1 : usual,
        unit: 'share',
        within: most ? value <= usual : value >= usual && !tooWide,
        source: tooWide ? 'Plain geometry' : source,
        standing: 'source',
        text,
      });
      return;
    }
    checks.push(
      strengthCheck({
        id,
        title,
        demand: most ? value : own,
        limit: most ? own : value,
        unit: 'share',
        basis: TRADE,
        source: 'Limit set in the job',
        standing: 'choice',
        formula: most ? '(d_h - d)/d <= k' : 'k <= (t + 2 t_c)/A',
        tex: most ? String.raw`\frac{d_h - d}{d} \le k` : String.raw`k \le \frac{t + 2t_c}{A}`,
        terms: [{ symbol: 'k', name: 'limit set in the job', value: own, unit: 'share' }],
        remedy: text,
      }),
    );
  };
  const hole =
    'DNVGL-ST-E271 4.4.1 (offshore containers): at most 6 % of the pin, as quoted in a notice of the class society';
  const jaw = 'ND 0027 Rev 11, 12.5.4 (marine lifts): plate at the hole at least 75 % of the jaw';
  held(
    'hole-clearance',
    'Clearance of the pin in its hole',
    clearance,
    0.06,
    true,
    fitLimits?.holeClearanceShare,
    hole,
  );
  held('jaw-filled', 'Share of the jaw that is filled', filled, 0.75, false, fitLimits?.jawFilledShare, jaw);
  if (inside === undefined) {
    advice.push({
      id: 'shackle-bow',
      title: 'Room in the bow',
      value: 0,
      usual: 0,
      unit: 'mm',
      within: false,
      source: 'No row of the size table has this working load and pin',
      standing: 'choice',
      text: ['The inside length of this shackle is not known: measure it, and try the bow on the lug before the dive.'],
    });
    return { checks, advice };
  }
  const measured = shackle.insideLength !== undefined;
  const lengthTerm = {
    symbol: 'C',
    name: measured ? 'inside length of the bow' : 'inside length of the bow, from the size table: measure it',
    value: inside,
    unit: 'mm',
  } as const;
  const past = reachAlong(lug, inPlane) - lug.hole / 2;
  checks.push(
    strengthCheck({
      id: 'shackle-bow',
      title: 'Bow clear of the plate along the pull',
      demand: past,
      limit: inside,
      unit: 'mm',
      basis: TRADE,
      source: measured
        ? 'Plain geometry'
        : 'Plain geometry; inside length from a table of RR-C-271 sizes, column assigned by size',
      standing: measured ? 'source' : 'not-verified',
      formula: 'reach - d_h/2 <= C',
      tex: String.raw`\rho(\theta) - \tfrac{d_h}{2} \le C`,
      terms: [
        { symbol: 'theta', name: 'pull from the stem, in the plane of the lug', value: inPlane, unit: 'rad' },
        { symbol: 'rho', name: 'from the pin to the outline that way', value: past + lug.hole / 2, unit: 'mm' },
        { symbol: 'd_h', name: 'pin hole', value: lug.hole, unit: 'mm' },
        lengthTerm,
      ],
      steps: [
        {
          symbol: 'room',
          formula: 'C - (rho - d_h/2): what hangs in the bow must fit in it',
          value: inside - past,
          unit: 'mm',
        },
      ],
      remedy: ['Take a shackle with a longer bow, a smaller top radius, or point the stem at the load.'],
    }),
  );
  const bowWidth = shackle.bowWidth ?? size?.bowWidth;
  const bar = shackle.bar ?? size?.bar;
  if (bowWidth !== undefined && bar !== undefined) {
    checks.push(
      strengthCheck({
        id: 'shackle-shell',
        title: 'Bow clear of the shell',
        demand: reachToShell(inPlane, { pin: shackle.pin, bar, bowWidth }, inside),
        limit: lug.pinHeight,
        unit: 'mm',
        basis: TRADE,
        source:
          'Plain geometry, the shell taken flat; bow from a table of RR-C-271 sizes where the job does not give it',
        standing: shackle.bowWidth !== undefined && shackle.bar !== undefined && measured ? 'source' : 'not-verified',
        formula: 'max(0, -cos theta) (d/2 + C + D) + |sin theta| (W/2 + D) <= h',
        tex: String.raw`\max(0,-\cos\theta)\left(\tfrac d2 + C + D\right) + |\sin\theta|\left(\tfrac W2 + D\right) \le h`,
        terms: [
          { symbol: 'theta', name: 'pull from the stem, in the plane of the lug', value: inPlane, unit: 'rad' },
          { symbol: 'd', name: 'pin', value: shackle.pin, unit: 'mm' },
          lengthTerm,
          { symbol: 'D', name: 'bar of the bow', value: bar, unit: 'mm' },
          { symbol: 'W', name: 'clear width of the bow', value: bowWidth, unit: 'mm' },
          { symbol: 'h', name: 'height of the pin', value: lug.pinHeight, unit: 'mm' },
        ],
        remedy: ['Raise the pin, or point the stem at the load.'],
      }),
    );
  }
  return { checks, advice };
}

function hoistCheck(c: Case, wll: number): Check {
  // Round-off of a line that hangs plumb is nothing.
  const given = c.input.fromPlumb;
  const angle = given !== undefined && given < PLUMB ? 0 : given;
  const lifts = c.service.force * Math.cos(angle ?? 0);
  return strengthCheck({
    id: 'hoist-wll',
    title: 'Hoist in this line',
    demand: c.service.force,
    limit: wll,
    unit: 'N',
    basis: TRADE,
    source: 'Working load limit of the hoist against the pull along its own line',
    standing: 'source',
    formula: 'F <= WLL',
    tex: String.raw`F \le \mathrm{WLL}`,
    terms: [
      { symbol: 'F', name: 'pull along the line, service load', value: c.service.force, unit: 'N' },
      { symbol: 'WLL', name: 'working load limit of the hoist', value: wll, unit: 'N' },
      ...(angle === undefined ? [] : [{ symbol: 'alpha', name: 'line off plumb', value: angle, unit: 'rad' } as const]),
    ],
    steps:
      angle === undefined
        ? []
        : [
            {
              symbol: 'F_v',
              formula: 'F cos alpha: what the line lifts',
              value: lifts,
              unit: 'N',
            },
          ],
    remedy:
      lifts < WORTH_PLUMB * c.service.force
        ? ['Take a larger hoist, add a line, or hang the line nearer to plumb.']
        : ['Take a larger hoist, or add a line.'],
  });
}

/** rad. Off plumb by less than this is round-off. */
const PLUMB = 1e-6;

/** A line that lifts more than this share of its pull gains nothing by hanging plumb. A choice: 8 deg off plumb. */
const WORTH_PLUMB = 0.99;
