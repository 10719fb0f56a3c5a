import { create } from 'zustand';

/** A file that is being read, or was not read to its end. */
export interface FileReading {
  readonly file: string;
  /** Share of its bytes, 0..1; `null` where what takes the time is not the bytes. */
  readonly done: number | null;
  readonly state: 'reading' | 'stopped';
}

export const useReading = create<{ readonly now: FileReading | null }>()(() => ({ now: null }));
