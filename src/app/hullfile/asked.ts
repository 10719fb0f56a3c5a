import { create } from 'zustand';
import { isModel } from '../../job/meshfile/load.ts';
import type { Axis, MeshUnit } from '../../job/meshfile/sift.ts';
import { readQuantity } from '../../job/quantity.ts';
import { internalPer } from '../../job/units.ts';
import { useDocument } from '../store/document.ts';
import type { HeldFile, JobFile } from '../store/heldfile.ts';
import { type Json, setIn, valueIn } from '../store/jsontext.ts';
import { parsed } from '../store/parsed.ts';
import { giveFile } from '../worker/client.ts';
import { readFileAside } from '../worker/fileclient.ts';

/** What must be said of a scan or a model before a job can be planned on it. */
export interface MeshWords {
  readonly unit: MeshUnit;
  readonly forward: Axis;
  readonly port: Axis;
  readonly up: Axis;
  /** Where the file's zero lies: forward of the aft perpendicular, to port, above the baseline, as typed. */
  readonly origin: readonly [string, string, string];
  readonly half: boolean;
}

/** What must be said of a drawing. */
export interface DrawingWords {
  readonly unit: MeshUnit | 'its own';
  readonly layer: string;
  readonly half: 'right' | 'left' | 'all';
}

export type Asked =
  | {
      readonly kind: 'mesh';
      readonly name: string;
      readonly file: HeldFile;
      readonly words: MeshWords;
      /** Least and greatest number on each axis of the file, once it is read. */
      readonly extent: { readonly low: readonly number[]; readonly high: readonly number[] } | null;
      readonly trouble: string | null;
    }
  | { readonly kind: 'drawing'; readonly name: string; readonly file: string; readonly words: DrawingWords };

export const useAsked = create<{ readonly now: Asked | null }>()(() => ({ now: null }));

export const UNITS: readonly MeshUnit[] = ['mm', 'cm', 'm', 'in', 'ft'];
export const AXES: readonly Axis[] = ['x', '-x', 'y', '-y', 'z', '-z'];

const START: MeshWords = { unit: 'mm', forward: 'x', port: 'y', up: 'z', origin: ['0 m', '0 m', '0 m'], half: true };

/** Asks what a scan, a model or a drawing is, which the job on the screen does not name yet. */
export function askAboutHull(name: string, file: JobFile): void {
  if (typeof file === 'string') {
    useAsked.setState({ now: { kind: 'drawing', name, file, words: { unit: 'its own', layer: '', half: 'all' } } });
    return;
  }
  useAsked.setState({ now: { kind: 'mesh', name, file, words: START, extent: null, trouble: null } });
  void look(name, file);
}

/** Reads the file at once: how far its numbers go tells most of what is asked. */
async function look(name: string, file: HeldFile): Promise<void> {
  const unit = isModel(name) ? await unitOf(name, file.blob) : 'mm';
  if (isModel(name)) change((a) => ({ ...a, words: { ...a.words, unit } }), name);
  const want = { file: name, unit, held: file };
  try {
    const read = await readFileAside(want);
    if (read === undefined) return;
    if (!read.ok) {
      change((a) => ({ ...a, trouble: `found ${read.found}, expected ${read.expected}` }), name);
      return;
    }
    const { low, high } = read.tape;
    await giveFile(want, read);
    change((a) => ({ ...a, extent: { low, high }, words: guessed(a.words, low, high, isModel(name)) }), name);
  } catch (error) {
    change((a) => ({ ...a, trouble: error instanceof Error ? error.message : String(error) }), name);
  }
}

function change(how: (asked: Extract<Asked, { kind: 'mesh' }>) => Asked, name: string): void {
  const { now } = useAsked.getState();
  if (now?.kind === 'mesh' && now.name === name) useAsked.setState({ now: how(now) });
}

/** Of a model's text what says its unit stands near its start, or in its global section. */
const HEAD = 4_000_000;

async function unitOf(name: string, blob: Blob): Promise<MeshUnit> {
  const text = new TextDecoder('latin1').decode(await blob.slice(0, HEAD).arrayBuffer());
  const { ownUnit } = await import('../../job/meshfile/model.ts');
  return ownUnit(text, /\.ig(e)?s$/i.test(name) ? 'iges' : 'step') ?? 'mm';
}

/** mm. What is scanned or drawn of a ship is as long as this: a little more than a foot, and no more than a ship. */
const [LEAST, MOST] = [400, 400_000];

/**
 * What the numbers of a file say about it, to start from: the longest axis runs fore and aft, the unit is one in which that makes
 * a part of a ship, and a shell whose numbers across all lie on one side is one half.
 */
export function guessed(words: MeshWords, low: readonly number[], high: readonly number[], sure: boolean): MeshWords {
  const size = [0, 1, 2].map((k) => (high[k] as number) - (low[k] as number));
  const longest = size.indexOf(Math.max(...size));
  const letters = ['x', 'y', 'z'] as const;
  const [forward, port, up] =
    longest === 1
      ? ([letters[1], '-x', letters[2]] as const)
      : longest === 2
        ? (['z', 'x', 'y'] as const)
        : (['x', 'y', 'z'] as const);
  // Where the length lies along the file's upright axis, nothing is told of what is up: it is asked with the others.
  const across = { x: 0, y: 1, z: 2 }[port.slice(-1) as 'x' | 'y' | 'z'];
  const breadth = Math.max(Math.abs(low[across] as number), Math.abs(high[across] as number));
  const half = (low[across] as number) > -0.05 * breadth || (high[across] as number) < 0.05 * breadth;
  const fits = (unit: MeshUnit): boolean => {
    const long = (size[longest] as number) * internalPer(unit);
    return long >= LEAST && long <= MOST;
  };
  const unit = sure ? words.unit : (['m', 'mm', 'ft', 'cm', 'in'] as const).find(fits);
  return { ...words, forward, port, up, half, unit: unit ?? words.unit };
}

/** Why what is said cannot be taken, if so. */
export function objectionTo(words: MeshWords): string | undefined {
  if (new Set([words.forward, words.port, words.up].map((a) => a.slice(-1))).size < 3)
    return 'Forward, port and up must be three different axes of the file.';
  if (left(words))
    return 'These axes make a left-handed ship: port and starboard would change places. Turn one of them round.';
  for (const figure of words.origin) {
    const reading = readQuantity(figure, 'length');
    if (!reading.ok) return `Found “${figure}”, expected ${reading.expected}.`;
  }
  return undefined;
}

/** Whether forward, port and up turn the wrong way round. A file is right-handed, and so are forward, port and up. */
function left({ forward, port, up }: MeshWords): boolean {
  const vector = (axis: Axis): readonly [number, number, number] => {
    const s = axis.startsWith('-') ? -1 : 1;
    const k = axis.slice(-1);
    return [k === 'x' ? s : 0, k === 'y' ? s : 0, k === 'z' ? s : 0];
  };
  const [a, b, c] = [vector(forward), vector(port), vector(up)];
  const det =
    a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0]) + a[2] * (b[0] * c[1] - b[1] * c[0]);
  return det < 0;
}

/** The hull as it will stand in the job. */
export function hullOf(asked: Asked): Json {
  if (asked.kind === 'drawing') {
    const { unit, layer, half } = asked.words;
    return {
      kind: 'drawing',
      file: asked.name,
      ...(unit === 'its own' ? {} : { unit }),
      ...(layer.trim() === '' ? {} : { layer: layer.trim() }),
      ...(half === 'all' ? {} : { half }),
    };
  }
  const { unit, forward, port, up, origin, half } = asked.words;
  return { kind: 'mesh', file: asked.name, unit, axes: { forward, port, up }, origin: [...origin], half };
}

/** Plans on the file that was asked about: one step that can be undone. */
export function planOnIt(asked: Asked): void {
  const { text, files } = useDocument.getState();
  if (valueIn(parsed(text), ['ship']) === undefined) return;
  useDocument.setState({
    text: setIn(text, ['ship', 'hull'], hullOf(asked)),
    files: { ...files, [asked.name]: asked.file },
  });
  useAsked.setState({ now: null });
}
