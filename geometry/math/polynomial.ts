/** Polynomials in one variable, coefficients from the constant up. */

export function polynomialAt(c: ArrayLike<number>, x: number): number {
  let sum = 0;
  for (let k = c.length - 1; k >= 0; k--) sum = sum * x + (c[k] as number);
  return sum;
}

export function polynomialSlope(c: ArrayLike<number>, x: number): number {
  let sum = 0;
  for (let k = c.length - 1; k >= 1; k--) sum = sum * x + k * (c[k] as number);
  return sum;
}
