import type { UnitCtor } from 'mathjs';
import { createUnitClass } from 'mathjs';

declare module 'mathjs' {
  /** The factory behind `math.unit`; exported by the library, missing from its declarations. */
  export function createUnitClass(dependencies: Readonly<Record<string, unknown>>): UnitCtor;
}

/** Stands where the library wants number types that a job file never holds. */
class Unused {
  static readonly I = 0;
  readonly unused = true;
}

/**
 * The library's unit class on plain numbers: a fifth of the code and a tenth of the start-up time of the one that also
 * carries matrices, fractions and big numbers.
 */
const Unit: UnitCtor = createUnitClass({
  config: { number: 'number', predictable: false, relTol: 1e-12, absTol: 1e-15 },
  addScalar: (a: number, b: number) => a + b,
  subtractScalar: (a: number, b: number) => a - b,
  multiplyScalar: (a: number, b: number) => a * b,
  divideScalar: (a: number, b: number) => a / b,
  pow: (a: number, b: number) => a ** b,
  abs: Math.abs,
  fix: Math.trunc,
  round: Math.round,
  equal: (a: number, b: number) => a === b,
  isNumeric: (a: unknown) => typeof a === 'number',
  format: String,
  number: Number,
  Complex: Unused,
  BigNumber: Unused,
  Fraction: Unused,
});

/**
 * Units by definition. tonf, the short ton of force, is not known to the library; kip and psi it holds rounded (the kip
 * to 4448.2216 N), so these are made from the pound and the inch, which it holds exactly.
 */
const OWN: Readonly<Record<string, string>> = {
  tonf: '2000 lbf',
  thousandLbf: '1000 lbf',
  lbfPerSquareInch: '1 lbf / in^2',
  kipPerSquareInch: '1000 lbf / in^2',
  poundsPerCubicFoot: '1 lb / ft^3',
  tonnesPerCubicMetre: '1000 kg / m^3',
};
for (const [name, definition] of Object.entries(OWN)) Unit.createUnitSingle(name, Unit.parse(definition));

/** What a quantity measures. `load` is a rated load: written as a mass or as a force, held as a force. */
export type Kind =
  | 'length'
  | 'angle'
  | 'force'
  | 'mass'
  | 'load'
  | 'stress'
  | 'current'
  | 'potential'
  | 'time'
  | 'share'
  | 'volume'
  | 'density';

/** Standard gravity, m/s^2: exact by definition (3rd CGPM, 1901). */
export const STANDARD_GRAVITY = 9.80665;

type UnitKind = Exclude<Kind, 'load'>;

/** The unit that stands inside the program for each kind. */
const INTERNAL: Readonly<Record<UnitKind, string>> = {
  length: 'mm',
  angle: 'rad',
  force: 'N',
  mass: 'kg',
  stress: 'MPa',
  current: 'A',
  potential: 'V',
  time: 'minute',
  share: '',
  volume: 'm^3',
  density: 'kg / m^3',
};

interface Spelling {
  readonly kind: UnitKind;
  /** The library's name. */
  readonly unit: string;
}

function spellings(kind: UnitKind, table: Readonly<Record<string, string>>): readonly (readonly [string, Spelling])[] {
  return Object.entries(table).flatMap(([unit, names]) => names.split(' ').map((n) => [n, { kind, unit }] as const));
}

/** How a unit may be written, by the library's name of the unit. */
const SPELLINGS: ReadonlyMap<string, Spelling> = new Map([
  ...spellings('length', { mm: 'mm', cm: 'cm', m: 'm', km: 'km', in: 'in inch inches "', ft: "ft foot feet '" }),
  ...spellings('angle', { deg: 'deg degree degrees °', rad: 'rad' }),
  ...spellings('force', { N: 'N', kN: 'kN', MN: 'MN', lbf: 'lbf', thousandLbf: 'kip kips', tonf: 'tonf' }),
  ...spellings('mass', { g: 'g', kg: 'kg', t: 't tonne tonnes', lb: 'lb lbs' }),
  ...spellings('stress', { MPa: 'MPa N/mm2 N/mm^2', GPa: 'GPa', kipPerSquareInch: 'ksi', lbfPerSquareInch: 'psi' }),
  ...spellings('current', { A: 'A' }),
  ...spellings('potential', { V: 'V' }),
  ...spellings('volume', { 'm^3': 'm3 m^3', L: 'l L', 'ft^3': 'ft3 ft^3' }),
  ...spellings('density', {
    'kg / m^3': 'kg/m3 kg/m^3',
    poundsPerCubicFoot: 'lb/ft3 lb/ft^3',
    tonnesPerCubicMetre: 't/m3 t/m^3',
  }),
  ...spellings('time', { s: 's', minute: 'min', hour: 'h hr' }),
  ['%', { kind: 'share', unit: '%' }],
]);

/** Written all in capitals or all in small letters, as on drawings (`12 MM`), unless that could mean another unit. */
const BY_LOWER_CASE: ReadonlyMap<string, Spelling> = new Map(
  [...SPELLINGS].filter(([name]) => name !== 'MN').map(([name, spelling]) => [name.toLowerCase(), spelling]),
);

/** @returns kind and unit of a spelling such as `in`, `"`, `MM`; undefined where it is not known. */
export function unitCalled(name: string): Spelling | undefined {
  const exact = SPELLINGS.get(name);
  if (exact !== undefined) return exact;
  const oneCase = name === name.toUpperCase() || name === name.toLowerCase();
  return oneCase ? BY_LOWER_CASE.get(name.toLowerCase()) : undefined;
}

const factors = new Map<string, number>();

/**
 * @param name of a unit as in a job file: `in`, `kip`, `deg`
 * @returns how many internal units (mm, rad, N, kg, MPa, A, V, min, m^3, kg/m^3; 1 for a share) one of it is
 * @throws Error for a name that no unit has
 */
export function internalPer(name: string): number {
  const known = factors.get(name);
  if (known !== undefined) return known;
  const spelling = unitCalled(name);
  if (spelling === undefined) throw new Error(`no unit is called ${name}`);
  const factor = factorOf(spelling);
  factors.set(name, factor);
  return factor;
}

function factorOf({ kind, unit }: Spelling): number {
  if (kind === 'share') return 0.01;
  if (kind === 'angle') return unit === 'deg' ? Math.PI / 180 : 1;
  // Rounded to 15 digits: the library goes by way of metres, and 0.3048 / 0.001 is not 304.8 in binary.
  return Number(new Unit(1, unit).toNumber(INTERNAL[kind]).toPrecision(15));
}
