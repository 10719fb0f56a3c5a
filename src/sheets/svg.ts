import { arcOf, type Item, MM_PER_POINT, type Page, type Pen, type Point, type Vertex } from './drawing.ts';

/** One page as an SVG at true scale: its width and height are in millimetres, one user unit is one millimetre. */
export function writeSvg(page: Page, title: string): string {
  const body: string[] = [];
  const clips: string[] = [];
  put(page.items, page.height, 0, 0, body, clips);
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${num(page.width)}mm" height="${num(page.height)}mm" viewBox="0 0 ${num(page.width)} ${num(page.height)}" font-family="'DejaVu Sans', sans-serif" stroke-linecap="round" stroke-linejoin="round">`,
    `<title>${xml(title)}</title>`,
    ...(clips.length > 0 ? ['<defs>', ...clips, '</defs>'] : []),
    ...body,
    '</svg>',
    '',
  ].join('\n');
}

/** Text as it stands between tags or in an attribute. Characters that XML does not allow are left out. */
const xml = (text: string): string =>
  text
    // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what XML forbids
    .replaceAll(/[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFE\uFFFF]/g, '')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;');

/** Six decimals of a millimetre, no tail of zeros. */
function num(value: number): string {
  const text = value.toFixed(6).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
}

function put(items: readonly Item[], H: number, dx: number, dy: number, out: string[], clips: string[]): void {
  const X = (p: Point) => num(p.x + dx);
  const Y = (p: Point) => num(H - p.y - dy);
  for (const item of items) {
    switch (item.kind) {
      case 'window': {
        const { x, y, width, height } = item.clip;
        const id = `window${clips.length + 1}`;
        clips.push(
          `<clipPath id="${id}"><rect x="${num(x + dx)}" y="${num(H - y - dy - height)}" width="${num(width)}" height="${num(height)}"/></clipPath>`,
        );
        out.push(`<g clip-path="url(#${id})">`);
        put(item.items, H, dx + item.dx, dy + item.dy, out, clips);
        out.push('</g>');
        break;
      }
      case 'path':
        out.push(
          `<path class="${xml(item.layer)}" d="${way(item.points, item.closed, X, Y)}"${paint(item.pen, item.fill)}/>`,
        );
        break;
      case 'circle':
        out.push(
          `<circle class="${xml(item.layer)}" cx="${X(item.centre)}" cy="${Y(item.centre)}" r="${num(item.radius)}"${paint(item.pen, item.fill)}/>`,
        );
        break;
      case 'text': {
        const anchor = { left: '', centre: ' text-anchor="middle"', right: ' text-anchor="end"' }[item.align];
        const turn =
          item.rotation === 0
            ? ''
            : ` transform="rotate(${num((-item.rotation * 180) / Math.PI)} ${X(item.at)} ${Y(item.at)})"`;
        const style = `${item.bold ? ' font-weight="bold"' : ''}${item.italic ? ' font-style="italic"' : ''}`;
        out.push(
          `<text class="${xml(item.layer)}" x="${X(item.at)}" y="${Y(item.at)}" font-size="${num(item.size * MM_PER_POINT)}"${style}${anchor}${turn} fill="${grey(item.grey)}" xml:space="preserve">${xml(item.text)}</text>`,
        );
      }
    }
  }
}

function way(points: readonly Vertex[], closed: boolean, X: (p: Point) => string, Y: (p: Point) => string): string {
  const first = points[0];
  if (first === undefined) return '';
  const parts = [`M${X(first)} ${Y(first)}`];
  points.forEach((p, i) => {
    const q = points[i + 1] ?? (closed ? first : undefined);
    if (q === undefined) return;
    if (p.bulge === undefined || p.bulge === 0) {
      if (i + 1 < points.length) parts.push(`L${X(q)} ${Y(q)}`);
      return;
    }
    const { radius, sweep } = arcOf(p, q);
    // y runs down in SVG: a left turn there is a sweep flag of 0.
    parts.push(
      `A${num(radius)} ${num(radius)} 0 ${Math.abs(sweep) > Math.PI ? 1 : 0} ${sweep > 0 ? 0 : 1} ${X(q)} ${Y(q)}`,
    );
  });
  if (closed) parts.push('Z');
  return parts.join('');
}

function paint(pen: Pen | undefined, fill: number | undefined): string {
  const inside = ` fill="${fill === undefined ? 'none' : grey(fill)}"`;
  if (pen === undefined) return inside;
  const dash = pen.dash === undefined ? '' : ` stroke-dasharray="${pen.dash.map(num).join(' ')}"`;
  return `${inside} stroke="${grey(pen.grey ?? 0)}" stroke-width="${num(pen.width)}"${dash}`;
}

function grey(value: number): string {
  const byte = Math.round(255 * value)
    .toString(16)
    .padStart(2, '0');
  return `#${byte}${byte}${byte}`;
}
