/** Widths of plate beyond which the edge past a pin dishes rather than pulls: 4 thicknesses a side. ASME BTH-1 3-3.3.1. */
export const DISHING_WIDTH = 4;

/**
 * Force above which a plate past the pin is counted on to dish, N: stress limit times 2 t (4 t), the widest strip a plate of
 * that thickness holds flat. The 4t is BTH-1's bound on the effective width; with another basis it is a rule borrowed from it.
 */
export const dishingForce = (thickness: number, stress: number, widths = DISHING_WIDTH): number =>
  2 * thickness * widths * thickness * stress;
