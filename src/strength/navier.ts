import { type Panel, type Patch, type PlateState, plateStiffness } from './platemoments.ts';

/** Deflection coefficients W_mn (mm) of a double sine series, m and n from 1: index (m - 1) terms + (n - 1). */
export interface NavierSeries {
  readonly panel: Panel;
  readonly terms: number;
  readonly w: Float64Array;
}

/** sin(k pi u)/(k pi u) with its limit 1 at u = 0. */
const sinc = (z: number): number => (z === 0 ? 1 : Math.sin(z) / z);

/**
 * Navier's series for a simply supported panel under patches: q_mn = (4/(a b)) sum F sin(m pi x/a) sin(n pi y/b) sinc(m pi u/2a)
 * sinc(n pi v/2b), W_mn = q_mn/(D pi^4 (m^2/a^2 + n^2/b^2)^2). Timoshenko and Woinowsky-Krieger, sections 28 to 30; nu, E as
 * in the panel. `terms` a side; a patch of size c needs about 4 a/c of them for its moments.
 */
export function navierSeries(panel: Panel, patches: readonly Patch[], terms: number): NavierSeries {
  const { a, b } = panel;
  const w = new Float64Array(terms * terms);
  const sy = new Float64Array(terms);
  for (const p of patches) {
    for (let n = 1; n <= terms; n++) {
      sy[n - 1] = Math.sin((n * Math.PI * p.y) / b) * sinc((n * Math.PI * p.sizeY) / (2 * b));
    }
    for (let m = 1; m <= terms; m++) {
      const sx = p.force * Math.sin((m * Math.PI * p.x) / a) * sinc((m * Math.PI * p.sizeX) / (2 * a));
      const row = (m - 1) * terms;
      for (let n = 0; n < terms; n++) w[row + n] = (w[row + n] as number) + sx * (sy[n] as number);
    }
  }
  const k = 4 / (a * b * plateStiffness(panel) * Math.PI ** 4);
  for (let m = 1; m <= terms; m++) {
    for (let n = 1; n <= terms; n++) {
      const i = (m - 1) * terms + n - 1;
      w[i] = ((w[i] as number) * k) / (m ** 2 / a ** 2 + n ** 2 / b ** 2) ** 2;
    }
  }
  return { panel, terms, w };
}

/** Deflection and moments of a double sine series at (x, y), mm: mx = -D (w_xx + nu w_yy), my, mxy = -D (1 - nu) w_xy. */
export function navierState(series: NavierSeries, x: number, y: number): PlateState {
  const { panel, terms, w } = series;
  const { a, b, nu } = panel;
  const d = plateStiffness(panel);
  const sy = new Float64Array(terms);
  const cy = new Float64Array(terms);
  for (let n = 1; n <= terms; n++) {
    sy[n - 1] = Math.sin((n * Math.PI * y) / b);
    cy[n - 1] = Math.cos((n * Math.PI * y) / b) * ((n * Math.PI) / b);
  }
  let deflection = 0;
  let wxx = 0;
  let wyy = 0;
  let wxy = 0;
  for (let m = 1; m <= terms; m++) {
    const al = (m * Math.PI) / a;
    let s = 0;
    let sn = 0;
    let c = 0;
    const row = (m - 1) * terms;
    for (let n = 1; n <= terms; n++) {
      const wmn = w[row + n - 1] as number;
      const part = wmn * (sy[n - 1] as number);
      s += part;
      sn += part * ((n * Math.PI) / b) ** 2;
      c += wmn * (cy[n - 1] as number);
    }
    const sx = Math.sin(al * x);
    deflection += sx * s;
    wxx -= al * al * sx * s;
    wyy -= sx * sn;
    wxy += al * Math.cos(al * x) * c;
  }
  return { deflection, mx: -d * (wxx + nu * wyy), my: -d * (wyy + nu * wxx), mxy: -d * (1 - nu) * wxy };
}

/** Slopes along the four edges as sine coefficients: dw/dy on y = 0 and y = b (by m), dw/dx on x = 0 and x = a (by n). */
export function edgeSlopes(series: NavierSeries, harmonics: number) {
  const { panel, terms, w } = series;
  const y0 = new Float64Array(harmonics);
  const yb = new Float64Array(harmonics);
  const x0 = new Float64Array(harmonics);
  const xa = new Float64Array(harmonics);
  for (let m = 1; m <= terms; m++) {
    for (let n = 1; n <= terms; n++) {
      const wmn = w[(m - 1) * terms + n - 1] as number;
      if (m <= harmonics) {
        const s = (wmn * n * Math.PI) / panel.b;
        y0[m - 1] = (y0[m - 1] as number) + s;
        yb[m - 1] = (yb[m - 1] as number) + (n % 2 === 0 ? s : -s);
      }
      if (n <= harmonics) {
        const s = (wmn * m * Math.PI) / panel.a;
        x0[n - 1] = (x0[n - 1] as number) + s;
        xa[n - 1] = (xa[n - 1] as number) + (m % 2 === 0 ? s : -s);
      }
    }
  }
  return { y0, yb, x0, xa };
}
