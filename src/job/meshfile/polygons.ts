import type { BufferGeometry, Mesh, Object3D } from 'three';
import { type ByteSource, wholeOf } from './bytes.ts';
import { MeshFault, type Sift } from './sift.ts';

/* OBJ and PLY by the loaders of the library that also draws; what they pass over in silence is looked at here. */

export async function readObj(source: ByteSource, sift: Pick<Sift, 'add'>): Promise<void> {
  const text = new TextDecoder('utf-8').decode(wholeOf(source));
  let corners = 0;
  let faces = 0;
  let line = 0;
  for (const row of text.split('\n')) {
    line++;
    const words = row.trim().split(/\s+/);
    if (words[0] === 'v') {
      corners++;
      if (words.length < 4 || words.slice(1, 4).some((w) => !Number.isFinite(Number(w)))) {
        throw new MeshFault(`line ${line}: "${row.trim().slice(0, 60)}"`, '"v" and three numbers');
      }
    } else if (words[0] === 'f') {
      faces++;
      for (const word of words.slice(1)) {
        const k = Number(word.split('/')[0]);
        if (!Number.isInteger(k) || k === 0 || k > corners || k < -corners) {
          throw new MeshFault(
            `line ${line}: a face with corner "${word.slice(0, 20)}" where there are ${corners}`,
            'a corner that stands above it',
          );
        }
      }
      if (words.length < 4)
        throw new MeshFault(`line ${line}: a face of ${words.length - 1} corners`, 'at least three');
    }
  }
  if (corners === 0) throw new MeshFault('no corner ("v" and three numbers)', 'an OBJ file');
  if (faces === 0)
    throw new MeshFault(`${corners} points without a face`, 'faces: points alone have first to be joined to a mesh');
  const { OBJLoader } = await import('three/examples/jsm/loaders/OBJLoader.js');
  const group: Object3D = quietly(() => new OBJLoader().parse(text));
  group.traverse((o) => {
    if ((o as Mesh).isMesh) addGeometry((o as Mesh).geometry, sift);
  });
}

export async function readPly(source: ByteSource, sift: Pick<Sift, 'add'>): Promise<void> {
  const bytes = wholeOf(source);
  const head = new TextDecoder('latin1').decode(bytes.subarray(0, 65_536));
  const end = head.indexOf('end_header');
  if (!/^ply\s/.test(head) || end < 0)
    throw new MeshFault('no PLY header', 'a PLY file: "ply" first, "end_header" before the data');
  const header = head.slice(0, end);
  const count = (name: string): number =>
    Number(new RegExp(`^element\\s+${name}\\s+(\\d+)`, 'm').exec(header)?.[1] ?? 0);
  const [corners, faces] = [count('vertex'), count('face')];
  if (corners === 0)
    throw new MeshFault('no vertex in its header', 'a PLY file with "element vertex" and "element face"');
  if (faces === 0)
    throw new MeshFault(`${corners} points without a face`, 'faces: points alone have first to be joined to a mesh');
  // The least a body can be: a number for each coordinate, a count and three indices for each face.
  const text = /^format\s+ascii/m.test(header);
  const least = end + (text ? 6 * corners + 8 * faces : 12 * corners + 4 * faces);
  if (bytes.length < least)
    throw new MeshFault(
      `a file cut short: ${bytes.length} bytes for ${corners} corners and ${faces} faces`,
      'the whole PLY file',
    );
  if (text) {
    const lines = new TextDecoder('latin1').decode(bytes).trimEnd().split('\n').length - header.split('\n').length;
    if (lines < corners + faces)
      throw new MeshFault(
        `a file cut short: ${lines} lines for ${corners} corners and ${faces} faces`,
        'the whole PLY file',
      );
  }
  const { PLYLoader } = await import('three/examples/jsm/loaders/PLYLoader.js');
  let geometry: BufferGeometry;
  try {
    geometry = quietly(() => new PLYLoader().parse(text ? new TextDecoder('latin1').decode(bytes) : bytes.buffer));
  } catch {
    throw new MeshFault('data that does not follow its header', 'the whole PLY file, undamaged');
  }
  const made = geometry.getIndex()?.count ?? 0;
  if (made < 3 * faces)
    throw new MeshFault(`${Math.floor(made / 3)} of ${faces} faces that read`, 'faces of three or four corners');
  addGeometry(geometry, sift);
}

function addGeometry(geometry: BufferGeometry, sift: Pick<Sift, 'add'>): void {
  const position = geometry.getAttribute('position');
  const index = geometry.getIndex();
  const n = index?.count ?? position.count;
  const nine = new Float64Array(9);
  for (let i = 0; i + 2 < n; i += 3) {
    for (let k = 0; k < 3; k++) {
      const v = index ? index.getX(i + k) : i + k;
      if (v >= position.count)
        throw new MeshFault(`a face with corner ${v} where there are ${position.count}`, 'corners that are there');
      nine[3 * k] = position.getX(v);
      nine[3 * k + 1] = position.getY(v);
      nine[3 * k + 2] = position.getZ(v);
    }
    sift.add(nine);
  }
}

/** The loaders speak to the console of lines they do not know; a command's output is no place for that. */
function quietly<T>(run: () => T): T {
  const { warn, log, error } = console;
  const nothing = () => {};
  Object.assign(console, { warn: nothing, log: nothing, error: nothing });
  try {
    return run();
  } finally {
    Object.assign(console, { warn, log, error });
  }
}
