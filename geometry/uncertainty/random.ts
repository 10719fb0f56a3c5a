/**
 * Standard normal numbers by place: number k of sample i is the same whoever asks for it, in whatever order, so that
 * samples may be shared out between threads. A counter is scrambled by the finalizer of SplitMix64's 32-bit relatives
 * (S. Vigna's public-domain designs; the constants are those of MurmurHash3) and turned normal by Box and Muller.
 */
export class NormalNumbers {
  private readonly seed: number;

  constructor(seed: number) {
    this.seed = scramble(seed ^ 0x9e3779b9);
  }

  /** Fills `out` with the numbers of a sample. */
  fill(sample: number, out: Float64Array): void {
    const base = scramble(this.seed + Math.imul(sample, 0x9e3779b1));
    for (let k = 0; k < out.length; k++) {
      const u = (scramble(base + Math.imul(2 * k + 1, 0x85ebca77)) + 0.5) / 2 ** 32;
      const v = scramble(scramble(base ^ 0x5bd1e995) + Math.imul(2 * k + 2, 0xc2b2ae3d)) / 2 ** 32;
      out[k] = Math.sqrt(-2 * Math.log(u)) * Math.cos(2 * Math.PI * v);
    }
  }
}

function scramble(x: number): number {
  let h = x | 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  h = Math.imul(h ^ (h >>> 16), 0x27d4eb2f);
  return (h ^ (h >>> 15)) >>> 0;
}
