/**
 * Memory for a list of numbers that is filled anew by whoever asks for it, so that a sweep leaves nothing to collect. Each list of its
 * own kind has its own room; what is given holds what was left there, and may be longer than asked for. Grows to the longest asked for.
 */
export class Room {
  private held = new Float64Array(0);

  list(length: number): Float64Array {
    if (this.held.length < length) this.held = new Float64Array(length);
    return this.held;
  }

  /** The same, all zero as far as asked for. */
  zeros(length: number): Float64Array {
    return this.list(length).fill(0, 0, length);
  }
}
