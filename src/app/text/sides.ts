import type { Side } from '../../../geometry/fit/rootline.ts';
import { showFigure } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import { sideNames, sideWay } from '../../sheets/sides.ts';
import type { ScreenFitting } from '../worker/protocol.ts';

/** Names of the four sides of the foot as a diver would say them: by where they face, as the sheets have it. */
export type SideNames = Readonly<Record<Side, string>>;

export { sideNames };

/** The corner, or the stretch, at s along the root: "keel side, aft corner". */
export function spotName(fitting: ScreenFitting, s: number, names = sideNames(fitting)): string {
  const { corners, perimeter } = fitting.root;
  const wrapped = s - perimeter * Math.floor(s / perimeter);
  const near = Math.min(12, perimeter / 40);
  const at = corners.findIndex((c) => Math.abs(c - wrapped) < near);
  const end = (side: 'end+' | 'end-'): string => sideWay(names[side]);
  if (at === 0 || at === 4) return `${names['face-']}, ${end('end-')} corner`;
  if (at === 1) return `${names['face-']}, ${end('end+')} corner`;
  if (at === 2) return `${names['face+']}, ${end('end+')} corner`;
  if (at === 3) return `${names['face+']}, ${end('end-')} corner`;
  return names[sideAtS(corners, wrapped)];
}

/** The same with the distance from the nearer corner, where the spot is none: "keel side, 112 mm from the aft corner". */
export function spotPlace(fitting: ScreenFitting, s: number, display: Display, names = sideNames(fitting)): string {
  const plain = spotName(fitting, s, names);
  if (plain.endsWith('corner')) return plain;
  const { corners, perimeter } = fitting.root;
  const wrapped = s - perimeter * Math.floor(s / perimeter);
  const nearest = corners.reduce((p, c) => (Math.abs(c - wrapped) < Math.abs(p - wrapped) ? c : p));
  const corner = spotName(fitting, nearest, names);
  const side = sideAtS(corners, wrapped);
  const which = side.startsWith('face') ? corner.replace(/^.*, /, '') : `${corner.replace(/ side,.*$/, '')} corner`;
  return `${plain}, ${showFigure({ mm: Math.abs(wrapped - nearest) }, display)} from the ${which}`;
}

/** Side on which the arc length s (0..perimeter) lies. */
export function sideAtS(corners: ScreenFitting['root']['corners'], s: number): Side {
  if (s < corners[1]) return 'face-';
  if (s < corners[2]) return 'end+';
  return s < corners[3] ? 'face+' : 'end-';
}
