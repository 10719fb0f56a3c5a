/**
 * The formulas of the checks as they are written in plain text (`F <= k F_u 2 t b_e`, `sqrt(V^2 + H^2)/(w t)`): read, worked out,
 * and set as mathematics with symbols or with figures. A blank multiplies, as loosely as `*` and `/` do, from left to right:
 * `a b/c d` is (a b/c) d. Plain algebra: no units in it but those of the figures put in.
 */
export type Formula =
  | { readonly kind: 'number'; readonly text: string }
  | { readonly kind: 'symbol'; readonly name: string }
  | { readonly kind: 'sum'; readonly parts: readonly { readonly minus: boolean; readonly of: Formula }[] }
  | { readonly kind: 'product'; readonly parts: readonly { readonly divides: boolean; readonly of: Formula }[] }
  | { readonly kind: 'power'; readonly base: Formula; readonly exponent: Formula }
  | { readonly kind: 'size'; readonly of: Formula }
  | { readonly kind: 'call'; readonly name: Callable; readonly of: readonly Formula[] };

type Callable = 'sqrt' | 'min' | 'max' | 'sin' | 'cos';
const CALLABLE: ReadonlySet<string> = new Set<Callable>(['sqrt', 'min', 'max', 'sin', 'cos']);

/** Both sides of `demand <= limit`; undefined for what is no such formula (words). */
export function readRelation(text: string): { readonly demand: Formula; readonly limit: Formula } | undefined {
  const sides = text.split('<=');
  if (sides.length !== 2) return undefined;
  const [demand, limit] = sides.map((side) => readFormula(side));
  return demand === undefined || limit === undefined ? undefined : { demand, limit };
}

/** One side of a formula; undefined for what is none. */
export function readFormula(text: string): Formula | undefined {
  const tokens = text.match(/\d+(?:\.\d+)?|[A-Za-z]+(?:_[A-Za-z0-9]+(?:,[A-Za-z0-9]+)?)?|[^\s]/g) ?? [];
  let at = 0;
  let open = 0;
  const fail = (): never => {
    throw new SyntaxError(text);
  };
  const take = (token: string): void => {
    if (tokens[at++] !== token) fail();
  };
  const begins = (token: string | undefined): boolean =>
    token !== undefined && (/^[\dA-Za-z(]/.test(token) || (token === '|' && open === 0));

  function sum(): Formula {
    const parts: { minus: boolean; of: Formula }[] = [];
    do {
      const sign = tokens[at] === '+' || tokens[at] === '-' ? tokens[at++] : '+';
      parts.push({ minus: sign === '-', of: product() });
    } while (tokens[at] === '+' || tokens[at] === '-');
    const [first] = parts;
    return parts.length === 1 && first !== undefined && !first.minus ? first.of : { kind: 'sum', parts };
  }
  function product(): Formula {
    const parts = [{ divides: false, of: power() }];
    for (;;) {
      const token = tokens[at];
      if (token === '/' || token === '*') at++;
      else if (!begins(token)) break;
      parts.push({ divides: token === '/', of: power() });
    }
    return parts.length === 1 ? (parts[0] as { of: Formula }).of : { kind: 'product', parts };
  }
  function power(): Formula {
    const base = atom();
    if (tokens[at] !== '^') return base;
    at++;
    return { kind: 'power', base, exponent: atom() };
  }
  function atom(): Formula {
    const token = tokens[at++];
    if (token === undefined) return fail();
    if (/^\d/.test(token)) return { kind: 'number', text: token };
    if (token === '(') {
      const outer = open;
      open = 0;
      const inner = sum();
      open = outer;
      take(')');
      return inner;
    }
    if (token === '|') {
      open++;
      const inner = sum();
      take('|');
      open--;
      return { kind: 'size', of: inner };
    }
    if (CALLABLE.has(token)) return call(token as Callable);
    return /^[A-Za-z]/.test(token) ? { kind: 'symbol', name: token } : fail();
  }
  function call(name: Callable): Formula {
    let exponent: Formula | undefined;
    if (tokens[at] === '^') {
      at++;
      exponent = atom();
    }
    const of: Formula[] = [];
    if (tokens[at] === '(') {
      do {
        at++;
        of.push(sum());
      } while (tokens[at] === ',');
      take(')');
    } else of.push(atom());
    const called: Formula = { kind: 'call', name, of };
    return exponent === undefined ? called : { kind: 'power', base: called, exponent };
  }
  try {
    const all = sum();
    return at === tokens.length ? all : undefined;
  } catch (error) {
    if (error instanceof SyntaxError) return undefined;
    throw error;
  }
}

/** The symbols of a formula, each once, in the order they stand. `pi` is a number. */
export function symbolsOf(formula: Formula): string[] {
  const found = new Set<string>();
  const look = (f: Formula): void => {
    if (f.kind === 'symbol' && f.name !== 'pi') found.add(f.name);
    else if (f.kind === 'sum' || f.kind === 'product') for (const part of f.parts) look(part.of);
    else if (f.kind === 'power') [f.base, f.exponent].forEach(look);
    else if (f.kind === 'size') look(f.of);
    else if (f.kind === 'call') f.of.forEach(look);
  };
  look(formula);
  return [...found];
}

/** The formula worked out; angles in rad. A symbol that `value` does not know makes it undefined. */
export function worked(formula: Formula, value: (symbol: string) => number | undefined): number | undefined {
  const of = (f: Formula): number => {
    switch (f.kind) {
      case 'number':
        return Number(f.text);
      case 'symbol':
        return f.name === 'pi' ? Math.PI : (value(f.name) ?? Number.NaN);
      case 'sum':
        return f.parts.reduce((total, part) => total + (part.minus ? -1 : 1) * of(part.of), 0);
      case 'product':
        return f.parts.reduce((total, part) => (part.divides ? total / of(part.of) : total * of(part.of)), 1);
      case 'power':
        return of(f.base) ** of(f.exponent);
      case 'size':
        return Math.abs(of(f.of));
      case 'call':
        return Math[f.name](...(f.of.map(of) as [number]));
    }
  };
  const result = of(formula);
  return Number.isNaN(result) ? undefined : result;
}

/** How symbols stand in a formula: as themselves, or as the figures put in for them. */
export interface Setting {
  readonly symbol: (name: string) => string;
  /** True where a figure stands for a symbol: then every product has its sign, every power and minus its brackets. */
  readonly figures: boolean;
}

/** The formula as TeX. */
export function formulaTex(formula: Formula, setting: Setting): string {
  const { figures } = setting;
  const bracket = (tex: string): string => String.raw`\left(${tex}\right)`;
  const of = (f: Formula): string => {
    switch (f.kind) {
      case 'number':
        return f.text;
      case 'symbol':
        return f.name === 'pi' ? String.raw`\pi` : setting.symbol(f.name);
      case 'sum':
        return f.parts
          .map(({ minus, of: part }, i) => `${minus ? '-' : i > 0 ? '+' : ''}${summand(part, i)}`)
          .join(' ');
      case 'product':
        return product(f.parts);
      case 'power':
        return f.base.kind === 'call' && (f.base.name === 'sin' || f.base.name === 'cos')
          ? called(f.base.name, f.base.of, `^{${of(f.exponent)}}`)
          : `${base(f.base)}^{${of(f.exponent)}}`;
      case 'size':
        return String.raw`\left|${of(f.of)}\right|`;
      case 'call':
        return called(f.name, f.of, '');
    }
  };
  const negative = (f: Formula): boolean => figures && f.kind === 'symbol' && of(f).startsWith('-');
  const summand = (f: Formula, i: number): string =>
    f.kind === 'sum' || (i > 0 && negative(f)) ? bracket(of(f)) : of(f);
  const factor = (f: Formula): string => (f.kind === 'sum' || negative(f) ? bracket(of(f)) : of(f));
  const base = (f: Formula): string =>
    f.kind === 'number' || (f.kind === 'symbol' && !figures) || f.kind === 'size' || f.kind === 'call'
      ? of(f)
      : bracket(of(f));
  const called = (name: Callable, args: readonly Formula[], script: string): string => {
    const [only] = args;
    if (name === 'sqrt') return String.raw`\sqrt{${of(only as Formula)}}`;
    if (
      args.length === 1 &&
      only !== undefined &&
      (only.kind === 'number' || (only.kind === 'symbol' && !negative(only)))
    )
      return `\\${name}${script} {${of(only)}}`;
    return `\\${name}${script}${bracket(args.map(of).join(String.raw`,\; `))}`;
  };
  const times = figures ? String.raw` \times ` : String.raw`\,`;
  const product = (parts: readonly { readonly divides: boolean; readonly of: Formula }[]): string => {
    // What stands over and under the line so far, from left to right.
    let over: Formula[] = [];
    let under: Formula[] = [];
    const row: string[] = [];
    const strip = (): string => {
      if (under.length === 0) return over.map(factor).join(times);
      const whole = (list: readonly Formula[]) =>
        list.length === 1 ? of(list[0] as Formula) : list.map(factor).join(times);
      return String.raw`\frac{${over.length === 0 ? '1' : whole(over)}}{${whole(under)}}`;
    };
    for (const { divides, of: part } of parts) {
      if (divides) under.push(part);
      else if (under.length > 0) {
        row.push(strip());
        [over, under] = [[part], []];
      } else over.push(part);
    }
    row.push(strip());
    return row.join(times);
  };
  return of(formula);
}
