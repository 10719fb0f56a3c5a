/** What the name of an order of runs needs to know of a run: its number, and where along the root it goes from and to, mm. */
export interface OrderedRun {
  readonly run: number;
  readonly fromS: number;
  readonly toS: number;
}

/** The order of runs in a word that changes whenever the order does: a mark made on another order is void. */
export const orderName = (runs: readonly OrderedRun[]): string =>
  runs.map((r) => `${r.run}:${r.fromS.toFixed(1)}>${r.toS.toFixed(1)}`).join(' ');

/**
 * Mark of an order of runs for the job file: 32 bits of FNV-1a (Fowler, Noll, Vo; public domain) over its name, as eight hex
 * digits. Not a secret and no proof: it changes when the order does, but for one chance in four thousand million.
 */
export function orderMark(runs: readonly OrderedRun[]): string {
  let hash = 0x811c9dc5;
  for (const c of orderName(runs)) hash = Math.imul(hash ^ c.charCodeAt(0), 0x01000193);
  return (hash >>> 0).toString(16).padStart(8, '0');
}
