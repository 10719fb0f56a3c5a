/** Points. Nothing on the card is smaller; every figure to act on is at least the second. */
export const LEAST_TYPE = 12;
export const LEAST_FIGURE = 16;
