import type { ShellBand } from '../worker/sure.ts';

/** mm. Below this the two edges of a band would be one line on the screen. */
const SEEN = 6;
const TIMES = [1, 2, 5, 10, 20, 50, 100, 200] as const;

/** Greatest half width of a band, mm. */
export const widest = ({ minus, plus }: ShellBand): number => Math.max(...minus.half, ...plus.half);

/** How many times as wide as it is a band is drawn. */
export function magnified(band: ShellBand): number {
  const most = widest(band);
  return TIMES.find((t) => t * most >= SEEN) ?? (TIMES.at(-1) as number);
}

/** Heights along the stem of the edges of a band on one face, nearer to the lug and farther from it, as they are drawn. */
export function edges(line: ShellBand['minus'], times: number): { readonly near: number[]; readonly far: number[] } {
  const at = (sign: number): number[] => Array.from(line.at, (b, i) => b + sign * times * (line.half[i] as number));
  return { near: at(1), far: at(-1) };
}
