import type fontkit from '@pdf-lib/fontkit';
import { faceFacts } from './truetype.ts';

type Face = ReturnType<typeof fontkit.create>;
type Subset = ReturnType<Face['createSubset']>;

/**
 * Letters that every file carries whether it uses them or not: those that the sheets are written in. As long as a file needs no
 * others its subset of the face is one and the same, and is made once for all files.
 */
const COMMON = `${Array.from({ length: 95 }, (_, i) => String.fromCharCode(32 + i)).join('')}°±·×–’•…−≤⌀◄►▲▼∑αβηθπρστψ`;

/** Those of the common letters that a face has. */
export const commonIn = (face: Face): string[] =>
  [...COMMON].filter((character) => face.hasGlyphForCodePoint(character.codePointAt(0) ?? 0));

/** Scripts that read from the right, among them those whose letters join. */
export const JOINING = /[\u0590-\u08FF\uFB1D-\uFDFF\uFE70-\uFEFC]/u;

/** As much of a letter as the writer of a PDF asks for. */
interface Letter {
  readonly id: number;
  readonly codePoints: readonly number[];
  readonly advanceWidth: number;
}

/**
 * A face as the PDF writer is to use it. Letters that do not join are taken one by one, without looking for ligatures and kerning,
 * which the writer could not place anyway: finding out that there are none would take most of the time of writing a sheet.
 * @param advance of a character, in units of the face
 */
export function faceForWriting(face: Face, bytes: Uint8Array, advance: (character: string) => number): Face {
  const letters = new Map<string, Letter>();
  const letterOf = (character: string): Letter => {
    let letter = letters.get(character);
    if (letter === undefined) {
      const code = character.codePointAt(0) ?? 0;
      letter = { id: face.glyphForCodePoint(code).id, codePoints: [code], advanceWidth: advance(character) };
      letters.set(character, letter);
    }
    return letter;
  };
  const layout = (text: string, ...rest: never[]) =>
    JOINING.test(text) ? face.layout(text, ...rest) : { glyphs: [...text].map(letterOf) };

  const common = commonIn(face);
  let encoded: Promise<Uint8Array> | undefined;
  const createSubset = () => {
    const subset = face.createSubset();
    let most = Math.max(...common.map((character) => subset.includeGlyph(letterOf(character).id)));
    const last = most;
    return {
      includeGlyph: (glyph: Letter): number => {
        const id = subset.includeGlyph(glyph.id);
        if (id > most) most = id;
        return id;
      },
      encodeStream: () => {
        if (most > last) return subset.encodeStream();
        encoded ??= collected(subset);
        return replayed(encoded);
      },
    };
  };

  const { italicAngle, fixedPitch, postscriptName } = faceFacts(bytes);
  return Object.create(face, {
    layout: { value: layout },
    createSubset: { value: createSubset },
    italicAngle: { value: italicAngle },
    postscriptName: { value: postscriptName },
    post: { value: { isFixedPitch: fixedPitch ? 1 : 0 } },
  }) as Face;
}

function collected(subset: Subset): Promise<Uint8Array> {
  return new Promise((resolve) => {
    const parts: Uint8Array[] = [];
    subset
      .encodeStream()
      .on('data', (part) => parts.push(part))
      .on('end', () => {
        const all = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
        let at = 0;
        for (const part of parts) {
          all.set(part, at);
          at += part.length;
        }
        resolve(all);
      });
  });
}

/** Bytes as the stream that the writer listens to: all of them in one piece. */
function replayed(bytes: Promise<Uint8Array>) {
  const stream = {
    on(event: string, listener: (value?: Uint8Array) => unknown) {
      if (event === 'data') bytes.then((all) => listener(all));
      if (event === 'end') bytes.then(() => listener());
      return stream;
    },
  };
  return stream;
}
