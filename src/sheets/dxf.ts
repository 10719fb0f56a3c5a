import { DxfWriter, LWPolylineFlags, point3d, TextHorizontalAlignment, Units } from '@tarikjabiri/dxf';
import { flattened, type Item, MM_PER_POINT } from './drawing.ts';
import { CAP_HEIGHT } from './fonts.ts';

export type DxfUnit = 'mm' | 'in';

/** Layers in trade words, with the colour number a reader shows them in. */
export type Layers = Readonly<Record<string, number>>;

const PER_MM: Readonly<Record<DxfUnit, number>> = { mm: 1, in: 1 / 25.4 };

/**
 * Items as a DXF at true scale, in mm or inches: paths as light polylines (arcs stay arcs, as bulges), circles, text. Each item
 * on the layer it names. The same items give the same text.
 */
export function writeDxf(items: readonly Item[], layers: Layers, unit: DxfUnit): string {
  const dxf = new DxfWriter();
  dxf.setUnits(unit === 'mm' ? Units.Millimeters : Units.Inches);
  dxf.setVariable('$MEASUREMENT', { 70: unit === 'mm' ? 1 : 0 });
  dxf.setVariable('$DWGCODEPAGE', { 3: 'ANSI_1252' });
  dxf.setVariable('$LASTSAVEDBY', { 1: 'Lugwright' });
  for (const [name, colour] of Object.entries(layers)) dxf.addLayer(name, colour, 'CONTINUOUS');
  const k = PER_MM[unit];
  for (const item of flattened(items)) {
    if (layers[item.layer] === undefined) throw new Error(`no layer ${item.layer}`);
    const on = { layerName: item.layer };
    switch (item.kind) {
      case 'path': {
        const points = item.points.map((p) => ({
          point: { x: p.x * k, y: p.y * k },
          ...(p.bulge === undefined ? {} : { bulge: p.bulge }),
        }));
        dxf.addLWPolyline(points, { ...on, flags: item.closed ? LWPolylineFlags.Closed : LWPolylineFlags.None });
        break;
      }
      case 'circle':
        dxf.addCircle(point3d(item.centre.x * k, item.centre.y * k), item.radius * k, on);
        break;
      case 'text': {
        const at = point3d(item.at.x * k, item.at.y * k);
        const align = {
          left: TextHorizontalAlignment.Left,
          centre: TextHorizontalAlignment.Center,
          right: TextHorizontalAlignment.Right,
        }[item.align];
        dxf.addText(at, item.size * MM_PER_POINT * CAP_HEIGHT * k, dxfText(item.text), {
          ...on,
          rotation: (item.rotation * 180) / Math.PI,
          ...(item.align === 'left' ? {} : { horizontalAlignment: align, secondAlignmentPoint: at }),
        });
      }
    }
  }
  return dxf.stringify();
}

/** Text that a reader takes as it stands: no codes (`%%d`, `\U+`, `^J`) and no ends of line. */
const dxfText = (text: string): string =>
  text
    .replaceAll(/[\p{Cc}\u2028\u2029]/gu, ' ')
    .replaceAll('%%', '% %')
    .replaceAll('\\U+', '\\ U+')
    .replaceAll('\\M+', '\\ M+')
    .replaceAll('^', '^ ');
