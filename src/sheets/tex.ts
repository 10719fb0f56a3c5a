import { type Item, MM_PER_POINT, type Vertex } from './drawing.ts';
import { type Fonts, widthOf } from './fonts.ts';

/**
 * Formulas set as mathematics: the part of TeX that the checks are written in (fractions, roots, scripts, growing brackets,
 * Greek, operators by name). A box has its base line at y = 0; mm.
 */
export interface MathBox {
  readonly width: number;
  readonly up: number;
  readonly down: number;
  readonly items: readonly Item[];
}

/** A box while it is put together: its own items, and boxes in it at their places, which nothing moves before they are drawn. */
interface Part {
  readonly width: number;
  readonly up: number;
  readonly down: number;
  readonly own: readonly Item[];
  readonly inside: readonly Placed[];
}

interface Placed {
  readonly part: Part;
  readonly dx: number;
  readonly dy: number;
}

/** Everything in a part, where it stands: each item is moved once. */
function drawn(part: Part, dx: number, dy: number, out: Item[]): Item[] {
  out.push(...moved(part.own, dx, dy));
  for (const each of part.inside) drawn(each.part, dx + each.dx, dy + each.dy, out);
  return out;
}

/** The part as others see it; its items are drawn when they are first asked for. */
function boxOf(part: Part): MathBox {
  let items: readonly Item[] | undefined;
  const { width, up, down } = part;
  return {
    width,
    up,
    down,
    get items() {
      items ??= drawn(part, 0, 0, []);
      return items;
    },
  };
}

const SYMBOLS: Readonly<Record<string, string>> = {
  alpha: 'α', beta: 'β', gamma: 'γ', delta: 'δ', epsilon: 'ε', eta: 'η', theta: 'θ', lambda: 'λ', mu: 'μ', nu: 'ν', pi: 'π',
  rho: 'ρ', sigma: 'σ', tau: 'τ', phi: 'φ', varphi: 'φ', psi: 'ψ', omega: 'ω', Omega: 'Ω', Delta: 'Δ', Sigma: 'Σ', infty: '∞',
  parallel: '∥', perp: '⊥', circ: '°', ldots: '…', dots: '…',
}; // biome-ignore format: a table
const BINARY: Readonly<Record<string, string>> = { cdot: '·', times: '×', pm: '±', div: '÷' };
const RELATIONS: Readonly<Record<string, string>> = {
  le: '≤',
  leq: '≤',
  ge: '≥',
  geq: '≥',
  approx: '≈',
  ne: '≠',
  to: '→',
};
const OPENS: ReadonlySet<string> = new Set(['=', '<', '>', ',', '\\le', '\\leq', '\\ge', '\\geq', '\\times', '\\cdot']);
const NAMES = ['max', 'min', 'sin', 'cos', 'tan', 'arcsin', 'arccos', 'arctan', 'ln', 'log', 'exp'];
const SPACES: Readonly<Record<string, number>> = {
  ',': 0.17,
  ';': 0.28,
  ':': 0.22,
  '!': -0.12,
  ' ': 0.25,
  quad: 1,
  qquad: 2,
};

/** Points. Nothing on paper is smaller: not a script of a script either. */
const LEAST = 8;

/** Lays a formula out at `size` points. What it does not know stands as its name: nothing is dropped. */
export function layoutTex(fonts: Fonts, tex: string, size: number): MathBox {
  return boxOf(new Reader(fonts, tex).row(size, () => false));
}

/** Words as they are, to stand beside a formula. */
export const wordsBox = (fonts: Fonts, words: string, size: number): MathBox =>
  boxOf(new Reader(fonts, '').word(words, size, {}));

/**
 * A symbol as the terms of a check name it (`F_y`, `sigma_0`, `L_order`) as TeX; undefined for what is no single symbol.
 */
export function symbolTex(symbol: string): string | undefined {
  const match = /^([A-Za-z]+)(?:_([A-Za-z0-9.,]+))?$/.exec(symbol);
  if (match === null) return undefined;
  const [, base = '', sub] = match;
  const head = SYMBOLS[base] !== undefined ? `\\${base}` : base.length === 1 ? base : `\\mathrm{${base}}`;
  return sub === undefined ? head : `${head}_{\\mathrm{${sub}}}`;
}

class Reader {
  private readonly fonts: Fonts;
  private readonly tokens: readonly string[];
  private at = 0;

  constructor(fonts: Fonts, tex: string) {
    this.fonts = fonts;
    this.tokens = tex.match(/\\[a-zA-Z]+|\\.|[0-9]+(?:\.[0-9]+)?|[^\s]/gu) ?? [];
  }

  private peek(): string | undefined {
    return this.tokens[this.at];
  }

  row(size: number, ends: (token: string) => boolean, style: Style = {}): Part {
    const boxes: Part[] = [];
    for (let token = this.peek(); token !== undefined && !ends(token); token = this.peek()) {
      if (token === '}' && !ends('}')) {
        this.at++;
        continue;
      }
      // A sign before which nothing stands belongs to what follows it.
      const sign =
        (token === '-' || token === '+') && (boxes.length === 0 || OPENS.has(this.tokens[this.at - 1] ?? ''));
      if (sign) this.at++;
      boxes.push(sign ? this.word(token === '-' ? '−' : '+', size, {}) : this.scripted(size, style));
    }
    return beside(boxes);
  }

  /** An atom with what hangs on it. */
  private scripted(size: number, style: Style): Part {
    const base = this.atom(size, style);
    let above: Part | undefined;
    let below: Part | undefined;
    for (let token = this.peek(); token === '^' || token === '_'; token = this.peek()) {
      this.at++;
      const script = this.argument(Math.min(size, Math.max(LEAST, size * 0.7)), style);
      if (token === '^') above = script;
      else below = script;
    }
    if (above === undefined && below === undefined) return base;
    const em = size * MM_PER_POINT;
    const rise = Math.max(0.38 * em, base.up - 0.45 * em);
    const drop = Math.max(0.16 * em, base.down + 0.05 * em);
    const inside: Placed[] = [{ part: base, dx: 0, dy: 0 }];
    if (above) inside.push({ part: above, dx: base.width + 0.03 * em, dy: rise });
    if (below) inside.push({ part: below, dx: base.width + 0.03 * em, dy: -drop });
    return {
      width: base.width + 0.06 * em + Math.max(above?.width ?? 0, below?.width ?? 0),
      up: Math.max(base.up, above ? rise + above.up : 0),
      down: Math.max(base.down, below ? drop + below.down : 0),
      own: [],
      inside,
    };
  }

  /** A group in braces, or the one token that follows. */
  private argument(size: number, style: Style = {}): Part {
    if (this.peek() === '{') {
      this.at++;
      const box = this.row(size, (token) => token === '}', style);
      this.at++;
      return box;
    }
    return this.atom(size, style);
  }

  private atom(size: number, style: Style): Part {
    const token = this.tokens[this.at++];
    if (token === undefined) return EMPTY;
    if (token === '{') {
      this.at--;
      return this.argument(size, style);
    }
    if (token.startsWith('\\')) return this.command(token.slice(1), size, style);
    if (/^[0-9]/.test(token)) return this.word(token, size, style);
    if (/^[a-zA-Z]$/.test(token)) return this.word(token, size, { italic: true, ...style });
    if (token === '=' || token === '<' || token === '>') return this.spaced(token, size, 0.28);
    if (token === '+' || token === '-') return this.spaced(token === '-' ? '−' : '+', size, 0.2);
    if (token === ',') return beside([this.word(',', size, {}), gap(0.17 * size * MM_PER_POINT)]);
    return this.word(token, size, style);
  }

  private command(name: string, size: number, style: Style): Part {
    const em = size * MM_PER_POINT;
    const space = SPACES[name];
    if (space !== undefined) return gap(space * em);
    if (name === 'frac' || name === 'tfrac' || name === 'dfrac') {
      const small = name === 'tfrac' ? 0.75 : 0.9;
      const part = Math.min(size, Math.max(LEAST, size * small));
      const above = this.argument(part, style);
      const below = this.argument(part, style);
      return fraction(above, below, em);
    }
    if (name === 'sqrt') return root(this.argument(size, style), em);
    if (name === 'mathrm' || name === 'text') return this.upright(size);
    if (name === 'mathbf') return this.argument(size, { italic: false, bold: true });
    if (name === 'left') {
      const open = this.tokens[this.at++] ?? '.';
      const inner = this.row(size, (token) => token === '\\right');
      this.at++;
      const close = this.tokens[this.at++] ?? '.';
      return beside([bracket(open, inner, em), inner, bracket(close, inner, em)]);
    }
    if (name === 'sum') {
      const big = this.word('∑', size * 1.35, {});
      return beside([gap(0.14 * em), { ...big, own: moved(big.own, 0, -0.18 * em) }, gap(0.14 * em)]);
    }
    if (NAMES.includes(name)) {
      const next = this.peek();
      const word = this.word(name, size, {});
      return next === '(' || next === '\\left' || next === '_' || next === '^' || next === '}' || next === undefined
        ? word
        : beside([word, gap(0.15 * em)]);
    }
    if (BINARY[name] !== undefined) return this.spaced(BINARY[name], size, 0.16);
    if (RELATIONS[name] !== undefined) return this.spaced(RELATIONS[name], size, 0.3);
    if (name === '%' || name === '{' || name === '}' || name === '|')
      return this.word(name === '|' ? '‖' : name, size, {});
    const symbol = SYMBOLS[name];
    return symbol === undefined ? this.word(name, size, {}) : this.word(symbol, size, { italic: true, ...style });
  }

  /** Upright letters as one word where nothing but letters and spaces stands in the group. */
  private upright(size: number): Part {
    const end = this.peek() === '{' ? this.tokens.indexOf('}', this.at) : -1;
    const inside = this.tokens.slice(this.at + 1, end);
    if (
      end < 0 ||
      !inside.every((token) => /^[\p{L}\p{N}/°²³.]+$/u.test(token) || token === '\\,' || token === '\\ ')
    ) {
      return this.argument(size, { italic: false });
    }
    this.at = end + 1;
    return this.word(inside.map((token) => (token.startsWith('\\') ? ' ' : token)).join(''), size, {});
  }

  word(text: string, size: number, style: Style): Part {
    const em = size * MM_PER_POINT;
    const { bold = false, italic = false } = style;
    return {
      width: widthOf(this.fonts, text, size, bold) + (italic ? 0.06 * em : 0),
      up: 0.76 * em,
      down: 0.22 * em,
      inside: [],
      own: [
        {
          kind: 'text',
          layer: 'TEXT',
          text,
          at: { x: 0, y: 0 },
          size,
          align: 'left',
          rotation: 0,
          bold,
          italic,
          grey: 0,
        },
      ],
    };
  }

  private spaced(text: string, size: number, space: number): Part {
    const side = gap(space * size * MM_PER_POINT);
    return beside([side, this.word(text, size, {}), side]);
  }
}

interface Style {
  readonly bold?: boolean;
  readonly italic?: boolean;
}

const EMPTY: Part = { width: 0, up: 0, down: 0, own: [], inside: [] };
const gap = (width: number): Part => ({ ...EMPTY, width });

export function moved(items: readonly Item[], dx: number, dy: number): Item[] {
  return items.map((item): Item => {
    if (item.kind === 'text') return { ...item, at: { x: item.at.x + dx, y: item.at.y + dy } };
    if (item.kind === 'path') return { ...item, points: item.points.map((p) => ({ ...p, x: p.x + dx, y: p.y + dy })) };
    if (item.kind === 'circle') return { ...item, centre: { x: item.centre.x + dx, y: item.centre.y + dy } };
    return { ...item, dx: item.dx + dx, dy: item.dy + dy };
  });
}

function beside(boxes: readonly Part[]): Part {
  let width = 0;
  let up = 0;
  let down = 0;
  const inside: Placed[] = [];
  for (const box of boxes) {
    inside.push({ part: box, dx: width, dy: 0 });
    width += box.width;
    up = Math.max(up, box.up);
    down = Math.max(down, box.down);
  }
  return { width, up, down, own: [], inside };
}

const stroke = (points: readonly Vertex[], width: number): Item => ({
  kind: 'path',
  layer: 'TEXT',
  points,
  closed: false,
  pen: { width },
});

function fraction(above: Part, below: Part, em: number): Part {
  const axis = 0.3 * em;
  const space = 0.14 * em;
  const side = 0.1 * em;
  const width = Math.max(above.width, below.width) + 2 * side;
  const lift = axis + space + above.down;
  const drop = below.up + space - axis;
  const line = [
    { x: side * 0.4, y: axis },
    { x: width - side * 0.4, y: axis },
  ];
  return {
    width,
    up: lift + above.up,
    down: drop + below.down,
    own: [stroke(line, 0.05 * em)],
    inside: [
      { part: above, dx: (width - above.width) / 2, dy: lift },
      { part: below, dx: (width - below.width) / 2, dy: -drop },
    ],
  };
}

function root(inner: Part, em: number): Part {
  const lead = 0.55 * em;
  const top = inner.up + 0.12 * em;
  const low = -inner.down - 0.02 * em;
  const sign = [
    { x: 0.05 * em, y: low + 0.4 * (top - low) },
    { x: 0.18 * em, y: low + 0.46 * (top - low) },
    { x: 0.34 * em, y: low },
    { x: lead, y: top },
    { x: lead + inner.width + 0.08 * em, y: top },
  ];
  return {
    width: lead + inner.width + 0.1 * em,
    up: top + 0.06 * em,
    down: -low + 0.02 * em,
    own: [stroke(sign, 0.055 * em)],
    inside: [{ part: inner, dx: lead + 0.03 * em, dy: 0 }],
  };
}

/** A bracket as tall as what it holds. */
function bracket(sign: string, inner: Part, em: number): Part {
  if (sign === '.') return EMPTY;
  const top = Math.max(inner.up, 0.76 * em) + 0.04 * em;
  const low = -Math.max(inner.down, 0.2 * em) - 0.04 * em;
  const pen = 0.06 * em;
  const wide = 0.3 * em;
  const box = (points: readonly Vertex[]): Part => ({
    width: wide,
    up: top,
    down: -low,
    own: [stroke(points, pen)],
    inside: [],
  });
  const [l, r] = [0.09 * em, 0.23 * em];
  // A flat arc between the ends, its bow a fixed share of the width whatever the height.
  const bow = (2 * (r - l)) / (top - low);
  if (sign === '(') return box([{ x: r, y: top, bulge: bow }, { x: r, y: low }]); // biome-ignore format: short
  if (sign === ')') return box([{ x: l, y: top, bulge: -bow }, { x: l, y: low }]); // biome-ignore format: short
  if (sign === '[') return box([{ x: r, y: top }, { x: l, y: top }, { x: l, y: low }, { x: r, y: low }]); // biome-ignore format: short
  if (sign === ']') return box([{ x: l, y: top }, { x: r, y: top }, { x: r, y: low }, { x: l, y: low }]); // biome-ignore format: short
  return box([{ x: wide / 2, y: top }, { x: wide / 2, y: low }]); // biome-ignore format: short
}
