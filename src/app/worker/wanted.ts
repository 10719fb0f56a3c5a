import type { MeshUnit } from '../../job/meshfile/sift.ts';
import type { HeldFile } from '../store/heldfile.ts';
import type { Tape } from './tape.ts';

/** A file that has to be read before a job can be. */
export interface Want {
  readonly file: string;
  readonly unit: MeshUnit;
  readonly held: HeldFile;
}

export type FileRead =
  | { readonly ok: true; readonly tape: Tape }
  | { readonly ok: false; readonly found: string; readonly expected: string };
