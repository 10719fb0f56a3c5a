import { create } from 'zustand';
import { valueIn } from '../store/jsontext.ts';
import { parsed } from '../store/parsed.ts';
import { useSession } from '../store/session.ts';
import { useView } from '../store/view.ts';
import type { Course, Part } from './course.ts';

export interface DictationState {
  /** What is being read over the radio; null: nothing. */
  readonly course: Course | null;
}

export const useDictation = create<DictationState>()(() => ({ course: null }));

export const openDictation = (course: Course): void => useDictation.setState({ course });
export const closeDictation = (): void => useDictation.setState({ course: null });

/** Whether the job's hull is one of readings, so that more can be added to it. */
export const hullIsRead = (text: string): boolean => valueIn(parsed(text), ['ship', 'hull', 'kind']) === 'readings';

/** Where the taking of readings stood: a mark that waits for its reading outlives the window. */
export interface Place {
  readonly part: Part;
  /** As the job file would write it; null: no mark waits. */
  readonly mark: string | null;
}

const KEY = 'lugwright-dictation';
const label = (course: Course): string => `${useSession.getState().id} ${course} ${useView.getState().fitting}`;

export function keepPlace(course: Course, place: Place): void {
  try {
    localStorage.setItem(KEY, JSON.stringify({ of: label(course), ...place }));
  } catch {
    // storage is forbidden: a mark without its reading is forgotten with the window
  }
}

export function keptPlace(course: Course, parts: readonly Part[]): Place | undefined {
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) ?? 'null') as Record<string, unknown> | null;
    if (kept === null || kept.of !== label(course)) return undefined;
    const part = parts.find((p) => p === kept.part);
    if (part === undefined) return undefined;
    return { part, mark: typeof kept.mark === 'string' ? kept.mark : null };
  } catch {
    return undefined;
  }
}
