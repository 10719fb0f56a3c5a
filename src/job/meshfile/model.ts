import { type ByteSource, wholeOf } from './bytes.ts';
import { MeshFault, type MeshUnit, type Sift } from './sift.ts';

/* STEP and IGES: surfaces turned into triangles by a library that is a file of its own (LGPL: it may be replaced). */

/**
 * mm. How far triangles may be off the surface where the library keeps to it; their corners lie on the surface, and it is
 * corners that the local surface is fitted to.
 */
const DEFLECTION = 0.3;
const ANGLE = 0.1;
const MOST_BYTES = 400_000_000;

/** Where the library's machine code lies, where that is not beside the library: the app's worker says. */
let wasmAt: string | undefined;
export function placeModelReader(url: string): void {
  wasmAt = url;
}

type Reader = Awaited<ReturnType<typeof import('occt-import-js').default>>;
let reader: Promise<Reader> | undefined;

function modelReader(): Promise<Reader> {
  reader ??= import('occt-import-js').then(({ default: start }) =>
    start({
      // It announces what it loads on standard output, where the plan belongs.
      print: () => {},
      printErr: () => {},
      ...(wasmAt === undefined ? {} : { locateFile: () => wasmAt as string }),
    }),
  );
  return reader;
}

/** The file's own unit; undefined where it does not say. STEP: a length unit; IGES: field 14 of the global section. */
export function ownUnit(text: string, kind: 'step' | 'iges'): MeshUnit | undefined {
  if (kind === 'step') {
    if (/CONVERSION_BASED_UNIT\s*\(\s*'\s*INCH/i.test(text)) return 'in';
    if (/CONVERSION_BASED_UNIT\s*\(\s*'\s*(FOOT|FEET)/i.test(text)) return 'ft';
    const prefix = /LENGTH_UNIT\s*\(\s*\)[^;]*SI_UNIT\s*\(\s*(\.\w+\.|\$)\s*,\s*\.METRE\./i.exec(text)?.[1];
    if (prefix === undefined) return undefined;
    return ({ '.MILLI.': 'mm', '.CENTI.': 'cm', $: 'm' } as const)[prefix.toUpperCase()];
  }
  const global = text
    .split(/\r?\n/)
    .filter((line) => line[72] === 'G')
    .map((line) => line.slice(0, 72))
    .join('');
  const flag = Number(fields(global)[13]);
  return ({ 1: 'in', 2: 'mm', 4: 'ft', 6: 'm', 10: 'cm' } as const)[flag];
}

/** Fields of an IGES global section: text stands as 3Habc, the first two fields may change the marks. */
function fields(global: string): string[] {
  const out: string[] = [];
  let mark = ',';
  let at = 0;
  while (at < global.length && out.length < 20) {
    const hollerith = /^\s*(\d+)H/.exec(global.slice(at, at + 12));
    let value: string;
    if (hollerith) {
      const from = at + hollerith[0].length;
      value = global.slice(from, from + Number(hollerith[1]));
      at = from + Number(hollerith[1]);
      while (at < global.length && global[at] !== mark && global[at] !== ';') at++;
    } else {
      const from = at;
      while (at < global.length && global[at] !== mark && global[at] !== ';') at++;
      value = global.slice(from, at).trim();
    }
    out.push(value);
    if (out.length === 1 && hollerith && value.length === 1) mark = value;
    if (global[at] === ';') break;
    at++;
  }
  return out;
}

/** Reads a model into triangles, in millimetres whatever its unit; that unit must be the one the job gives. */
export async function readModel(
  source: ByteSource,
  kind: 'step' | 'iges',
  unit: MeshUnit,
  sift: Pick<Sift, 'add'>,
): Promise<void> {
  if (source.size > MOST_BYTES) throw new MeshFault(`${source.size} bytes`, `a model of at most ${MOST_BYTES} bytes`);
  const bytes = wholeOf(source);
  const text = new TextDecoder('latin1').decode(bytes);
  const name = kind === 'step' ? 'STEP' : 'IGES';
  if (kind === 'step' && !/ISO-10303-21\s*;/.test(text.slice(0, 4096)))
    throw new MeshFault('no "ISO-10303-21;" at its start', 'a STEP file');
  if (kind === 'step' && !/END-ISO-10303-21\s*;\s*$/.test(text.slice(-4096)))
    throw new MeshFault('a file cut short', 'the whole STEP file, to its "END-ISO-10303-21;"');
  if (kind === 'iges' && !/^.{72}[SF]/m.test(text.slice(0, 400)))
    throw new MeshFault('no start section (an S in column 73)', 'an IGES file');
  if (kind === 'iges' && !/^.{72}T/m.test(text.slice(-200)))
    throw new MeshFault('a file cut short', 'the whole IGES file, to its terminate section');
  const own = ownUnit(text, kind);
  if (own !== undefined && own !== unit)
    throw new MeshFault(`a ${name} file whose own unit is ${own}, where the job says ${unit}`, `"unit": "${own}"`);
  const occt = await modelReader();
  const parameters = {
    linearUnit: 'millimeter',
    linearDeflectionType: 'absolute_value',
    linearDeflection: DEFLECTION,
    angularDeflection: ANGLE,
  } as const;
  let result: ReturnType<Reader['ReadStepFile']>;
  try {
    result = kind === 'step' ? occt.ReadStepFile(bytes, parameters) : occt.ReadIgesFile(bytes, parameters);
  } catch {
    reader = undefined;
    throw new MeshFault(`a ${name} file that does not read`, `a ${name} file of surfaces, undamaged`);
  }
  if (!result.success)
    throw new MeshFault(`a ${name} file that does not read`, `a ${name} file of surfaces, undamaged`);
  const nine = new Float64Array(9);
  for (const { attributes, index } of result.meshes) {
    const position = attributes.position.array;
    const list = index.array;
    for (let i = 0; i + 2 < list.length; i += 3) {
      for (let k = 0; k < 3; k++) {
        const v = 3 * (list[i + k] as number);
        for (let j = 0; j < 3; j++) nine[3 * k + j] = position[v + j] as number;
      }
      sift.add(nine);
    }
  }
}
