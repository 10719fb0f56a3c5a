import { type ByteSource, wholeOf } from './bytes.ts';
import { MeshFault, type Sift } from './sift.ts';

const HEADER = 84;
const RECORD = 50;
const RECORDS = 20_000;

/** STL, binary or text: it is binary where its length is what the count in its header makes it. */
export function readStl(source: ByteSource, sift: Pick<Sift, 'add'>): void {
  const head = source.read(0, 512).slice();
  const text = new TextDecoder('latin1').decode(head);
  const says = head.length >= HEADER ? new DataView(head.buffer, head.byteOffset).getUint32(80, true) : 0;
  const needs = HEADER + RECORD * says;
  const textual = /^\s*solid\b/.test(text) && /\bfacet\b|\bendsolid\b/.test(text);
  if (head.length >= HEADER && needs === source.size && !(textual && says === 0)) {
    readBinary(source, says, sift);
    return;
  }
  if (textual) {
    readText(source, sift);
    return;
  }
  if (head.length < HEADER)
    throw new MeshFault(
      `a file of ${source.size} bytes`,
      'an STL file: text that starts with "solid", or a header of 84 bytes and triangles',
    );
  if (source.size < needs) {
    throw new MeshFault(
      `a file cut short: ${source.size} bytes, where its header promises ${says} triangles in ${needs}`,
      'the whole STL file',
    );
  }
  throw new MeshFault(
    `${source.size - needs} bytes beyond the ${says} triangles that its header promises`,
    'an STL file as long as its header says',
  );
}

function readBinary(source: ByteSource, count: number, sift: Pick<Sift, 'add'>): void {
  const nine = new Float64Array(9);
  for (let first = 0; first < count; first += RECORDS) {
    const n = Math.min(RECORDS, count - first);
    const bytes = source.read(HEADER + first * RECORD, n * RECORD);
    if (bytes.length < n * RECORD) throw new MeshFault('a file that ended while it was read', 'the whole STL file');
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    for (let i = 0, at = 12; i < n; i++, at += RECORD) {
      nine[0] = view.getFloat32(at, true);
      nine[1] = view.getFloat32(at + 4, true);
      nine[2] = view.getFloat32(at + 8, true);
      nine[3] = view.getFloat32(at + 12, true);
      nine[4] = view.getFloat32(at + 16, true);
      nine[5] = view.getFloat32(at + 20, true);
      nine[6] = view.getFloat32(at + 24, true);
      nine[7] = view.getFloat32(at + 28, true);
      nine[8] = view.getFloat32(at + 32, true);
      sift.add(nine);
    }
  }
}

/** Words of a text STL one after the other; lines are counted for the message. */
function readText(source: ByteSource, sift: Pick<Sift, 'add'>): void {
  const text = new TextDecoder('latin1').decode(wholeOf(source));
  const nine = new Float64Array(9);
  let corner = 0;
  let open = false;
  let ended = false;
  let line = 0;
  for (let at = 0; at < text.length; ) {
    let end = text.indexOf('\n', at);
    if (end < 0) end = text.length;
    line++;
    const words = text.slice(at, end).trim().split(/\s+/);
    at = end + 1;
    switch (words[0]?.toLowerCase()) {
      case 'facet':
        if (open) throw new MeshFault(`line ${line}: a facet inside a facet`, '"endfacet" before it');
        open = true;
        corner = 0;
        break;
      case 'vertex': {
        if (!open || corner > 2) throw new MeshFault(`line ${line}: a vertex too many`, 'three to a facet');
        const xyz = words.slice(1).map(Number);
        if (xyz.length !== 3 || xyz.some((v) => !Number.isFinite(v)))
          throw new MeshFault(`line ${line}: "${words.join(' ').slice(0, 60)}"`, '"vertex" and three numbers');
        for (let k = 0; k < 3; k++) nine[3 * corner + k] = xyz[k] as number;
        corner++;
        break;
      }
      case 'endfacet':
        if (!open || corner !== 3)
          throw new MeshFault(`line ${line}: a facet of ${corner} corners`, 'three corners to a facet');
        sift.add(nine);
        open = false;
        break;
      case 'endsolid':
        ended = true;
        break;
      case 'solid':
      case 'outer':
      case 'endloop':
      case '':
      case undefined:
        break;
      default:
        throw new MeshFault(
          `line ${line}: "${(words[0] ?? '').slice(0, 40)}"`,
          'a line of a text STL: facet, vertex, endfacet',
        );
    }
  }
  if (open || !ended) throw new MeshFault(`a file cut short at line ${line}`, 'the whole STL file, to its "endsolid"');
}
