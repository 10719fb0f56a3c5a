/**
 * @returns the candidate that a slip of the hand most likely meant, or undefined where none is near.
 * Distance after Damerau: letters left out, put in, changed, or two neighbours exchanged; upper and lower case are one.
 * Failing that, a candidate that the word begins or is begun by (`footLength` for `foot`).
 */
export function nearest(word: string, candidates: readonly string[]): string | undefined {
  if (word.length > 40) return undefined;
  let best: { readonly name: string; readonly distance: number } | undefined;
  for (const name of candidates) {
    const distance = editDistance(word.toLowerCase(), name.toLowerCase());
    if (distance <= Math.max(1, Math.floor(name.length / 3)) && distance < (best?.distance ?? Infinity)) {
      best = { name, distance };
    }
  }
  if (best !== undefined) return best.name;
  const small = word.toLowerCase();
  const begins = (a: string, b: string) => b.length >= 3 && a.startsWith(b);
  return candidates.find((name) => begins(small, name.toLowerCase()) || begins(name.toLowerCase(), small));
}

/** Optimal string alignment distance between two words. */
export function editDistance(a: string, b: string): number {
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = a[i - 1] === b[j - 1] ? 0 : 1;
      let d = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + change);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) d = Math.min(d, (before[j - 2] ?? 0) + 1);
      row.push(d);
    }
    before = last;
    last = row;
  }
  return last[b.length] ?? 0;
}
