import { create } from 'zustand';

/** Whether the list of what is shipped lies open. */
export const useLicences = create<{ readonly open: boolean }>()(() => ({ open: false }));
