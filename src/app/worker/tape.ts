import type { TriangleSink } from '../../job/meshfile/load.ts';

/**
 * All triangles of a file in its own numbers, nine each (x y z of three corners), so that it is read once however often the job
 * is planned. In single precision where the file has no more than that.
 */
export interface Tape {
  readonly numbers: Float32Array | Float64Array;
  /** Least and greatest number on each axis of the file. */
  readonly low: readonly number[];
  readonly high: readonly number[];
}

/** Takes triangles down as a file is read. */
export class TapeRecorder implements TriangleSink {
  #numbers: Float32Array | Float64Array = new Float32Array(9 * 8192);
  #n = 0;
  readonly #low = [Infinity, Infinity, Infinity];
  readonly #high = [-Infinity, -Infinity, -Infinity];

  add(nine: ArrayLike<number>, at = 0): void {
    if (this.#n + 9 > this.#numbers.length) this.#become(new this.#kind(this.#numbers.length * 2));
    for (let k = 0; k < 9; k++) {
      const x = nine[at + k] as number;
      if (x !== Math.fround(x) && !Number.isNaN(x) && this.#kind === Float32Array)
        this.#become(new Float64Array(this.#numbers.length));
      this.#numbers[this.#n + k] = x;
      const axis = k % 3;
      if (x < (this.#low[axis] as number)) this.#low[axis] = x;
      if (x > (this.#high[axis] as number)) this.#high[axis] = x;
    }
    this.#n += 9;
  }

  get #kind(): Float32ArrayConstructor | Float64ArrayConstructor {
    return this.#numbers instanceof Float32Array ? Float32Array : Float64Array;
  }

  #become(larger: Float32Array | Float64Array): void {
    larger.set(this.#numbers);
    this.#numbers = larger;
  }

  tape(): Tape {
    return { numbers: this.#numbers.slice(0, this.#n), low: this.#low, high: this.#high };
  }
}

/** Gives the triangles of a tape as the file gave them. */
export function play({ numbers }: Tape, sink: TriangleSink): void {
  for (let at = 0; at < numbers.length; at += 9) sink.add(numbers, at);
}
