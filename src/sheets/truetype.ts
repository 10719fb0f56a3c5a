/**
 * What a PDF says about a face, read from the bytes of its TrueType file (ISO/IEC 14496-22: table directory, `post`, `name`).
 * The reader of typefaces would unpack the names of thousands of letters to tell the same.
 */
export interface FaceFacts {
  /** Degrees, counterclockwise from the upright. */
  readonly italicAngle: number;
  readonly fixedPitch: boolean;
  /** Name of the face for a printer; undefined where the file has none in plain letters. */
  readonly postscriptName: string | undefined;
}

/** The facts of a face. Tables that are not there count as upright, proportional and nameless. */
export function faceFacts(bytes: Uint8Array): FaceFacts {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const post = tableAt(view, 'post');
  return {
    italicAngle: post === undefined ? 0 : view.getInt32(post + 4) / 0x10000,
    fixedPitch: post !== undefined && view.getUint32(post + 12) !== 0,
    postscriptName: postscriptName(view),
  };
}

/** Where a table begins, bytes from the start of the file. */
function tableAt(view: DataView, tag: string): number | undefined {
  const count = view.getUint16(4);
  for (let i = 0; i < count; i++) {
    const entry = 12 + 16 * i;
    if ([...tag].every((letter, k) => view.getUint8(entry + k) === letter.charCodeAt(0)))
      return view.getUint32(entry + 8);
  }
  return undefined;
}

const POSTSCRIPT_NAME = 6;
const WINDOWS = 3;

function postscriptName(view: DataView): string | undefined {
  const name = tableAt(view, 'name');
  if (name === undefined) return undefined;
  const count = view.getUint16(name + 2);
  const strings = name + view.getUint16(name + 4);
  for (let i = 0; i < count; i++) {
    const record = name + 6 + 12 * i;
    if (view.getUint16(record) !== WINDOWS || view.getUint16(record + 6) !== POSTSCRIPT_NAME) continue;
    // Two bytes a letter, the higher first; the name is of plain letters alone.
    let text = '';
    const from = strings + view.getUint16(record + 10);
    for (let k = 0; k < view.getUint16(record + 8); k += 2) text += String.fromCharCode(view.getUint16(from + k));
    return /^[!-~]+$/.test(text) ? text : undefined;
  }
  return undefined;
}
