/** Figures that differ by no more than this share of the greater are one figure: so much the solving of a pose leaves to chance. */
export const TIE = 1e-6;

/**
 * Whether a figure is greater than the greatest so far by more than round-off, so that of equal ones the first is named: a load that hangs
 * alike at five steps pulls hardest at the first of them. `scale`: what the two are measured by where they may be nothing themselves.
 */
export const beats = (figure: number, greatest: number, scale = 0): boolean =>
  figure > greatest + TIE * Math.max(Math.abs(greatest), scale);
