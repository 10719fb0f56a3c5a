/** ms. A batch of calls lasts at least this, so that the clock's grain and a single pause do not decide. */
const BATCH = 4;
/** ms that each contender runs before anything is counted: the compiler has then done with it. */
const WARM_UP = 250;
const ROUNDS = 41;

/** What is timed: its result is kept, so that no work can be left out as useless. */
export type Contender = () => number;

export interface RaceOptions {
  /** Batches of each contender that are counted; the median is taken over them. */
  readonly rounds?: number;
}

/** ms a call, and the median over the rounds of each contender's time against the first one's in the same round. */
export interface RaceResult {
  readonly median: number;
  /** Of all rounds: what a machine that does much else besides would do if left alone. */
  readonly least: number;
  readonly ratio: number;
}

let kept = 0;

/**
 * Times contenders in turn, round by round, so that whatever else the machine does falls on all of them alike: medians
 * differ from one run of the bench to the next, ratios within a run hardly do.
 */
export function race(contenders: readonly Contender[], options: RaceOptions = {}): RaceResult[] {
  const calls = contenders.map((run) => {
    const start = performance.now();
    let count = 0;
    do {
      kept += run();
      count++;
    } while (performance.now() - start < WARM_UP);
    // By the last calls, not the first ones.
    const from = performance.now();
    let last = 0;
    do {
      kept += run();
      last++;
    } while (performance.now() - from < BATCH);
    return Math.max(1, Math.min(last, count));
  });
  const times = contenders.map((): number[] => []);
  for (let round = 0; round < (options.rounds ?? ROUNDS); round++) {
    contenders.forEach((run, i) => {
      const n = calls[i] as number;
      const start = performance.now();
      for (let k = 0; k < n; k++) kept += run();
      times[i]?.push((performance.now() - start) / n);
    });
  }
  const first = times[0] as number[];
  return times.map((list) => ({
    median: median(list),
    least: Math.min(...list),
    ratio: median(list.map((t, k) => t / (first[k] as number))),
  }));
}

export function median(list: readonly number[]): number {
  const sorted = [...list].sort((p, q) => p - q);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1
    ? (sorted[middle] as number)
    : ((sorted[middle - 1] as number) + (sorted[middle] as number)) / 2;
}

/** What all timed calls added up to: printed once, so that none of it is idle work. */
export const keptSum = (): number => kept;
