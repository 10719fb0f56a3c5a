import { edit } from '../store/document.ts';
import { append, type Json, type Path, removeIn, setIn } from '../store/jsontext.ts';

export { append, edit };

/** Sets a value, or takes it out where it is undefined. */
export const replaceIn = (text: string, path: Path, value: Json | undefined): string =>
  value === undefined ? removeIn(text, path) : setIn(text, path, value);
