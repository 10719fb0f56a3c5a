import type { ThreeEvent } from '@react-three/fiber';
import { useThree } from '@react-three/fiber';
import { useEffect, useMemo, useRef } from 'react';
import { BufferAttribute, BufferGeometry, CanvasTexture, FrontSide, SRGBColorSpace } from 'three';
import { putThere } from '../places/Places.tsx';
import { painted } from '../places/paint.ts';
import { belongs, type MapShown, nearestKnown, useMap } from '../places/store.ts';
import type { Shown } from '../store/planning.ts';
import { useView } from '../store/view.ts';
import type { ScreenFitting } from '../worker/protocol.ts';
import { Lines, pairs } from './lines.tsx';
import type { Palette } from './palette.ts';

interface Props {
  readonly shown: Shown;
  readonly fitting: ScreenFitting;
  readonly index: number;
  readonly palette: Palette;
}

/** The map of places, painted on the shell it is a map of. Pointing at it moves the spot of the chart, a click puts the lug there. */
export function MapOnShell(props: Props) {
  const open = useMap((s) => s.open);
  const map = useMap((s) => s.shown);
  if (!open || map === null || map.skin === null) return null;
  if (map.asked.over !== 'place' || map.asked.fitting !== props.index) return null;
  return <Painted {...props} map={map} skin={map.skin} />;
}

type Skin = NonNullable<MapShown['skin']>;

function Painted({
  shown,
  fitting,
  index,
  palette,
  map,
  skin,
}: Props & { readonly map: MapShown; readonly skin: Skin }) {
  const paint = useMap((s) => s.paint);
  const theme = useView((s) => s.theme);
  const invalidate = useThree((s) => s.invalidate);
  const { limits } = shown.plan.job;
  const geometry = useMemo(() => {
    const made = new BufferGeometry();
    made.setAttribute('position', new BufferAttribute(skin.positions, 3));
    made.setAttribute('uv', new BufferAttribute(skin.share, 2));
    made.setIndex(new BufferAttribute(skin.index, 1));
    return made;
  }, [skin]);
  useEffect(() => () => geometry.dispose(), [geometry]);
  const picture = painted(map, paint, theme, limits);
  const texture = useMemo(() => {
    const made = new CanvasTexture(picture);
    made.colorSpace = SRGBColorSpace;
    made.anisotropy = 8;
    return made;
  }, [picture]);
  useEffect(() => {
    invalidate();
    return () => texture.dispose();
  }, [texture, invalidate]);
  const touched = useRef(false);

  const cellUnder = (e: ThreeEvent<PointerEvent | MouseEvent>) => {
    // What stands in front is meant, not the shell behind it.
    if (e.uv === undefined || e.intersections[0]?.object !== e.object) return undefined;
    const [w, h] = [map.grid.columns.length, map.grid.rows.length];
    return {
      column: Math.min(w - 1, Math.max(0, Math.floor(e.uv.x * w))),
      row: Math.min(h - 1, Math.max(0, Math.floor(e.uv.y * h))),
    };
  };
  const stale = !belongs(map, shown.request);
  return (
    <group position={[...skin.origin]}>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: a thing of the scene; the chart does the same for the keyboard */}
      <mesh
        geometry={geometry}
        dispose={null}
        renderOrder={1}
        onPointerDown={(e) => {
          touched.current = e.nativeEvent.pointerType === 'touch';
        }}
        onPointerMove={(e) => {
          if (e.nativeEvent.buttons !== 0) return;
          const to = cellUnder(e);
          const { cursor } = useMap.getState();
          if (to !== undefined && (cursor?.column !== to.column || cursor.row !== to.row))
            useMap.setState({ cursor: to });
        }}
        onClick={(e) => {
          // A drag looks round; only a press that stays where it is means this spot.
          if (e.delta > 4) return;
          const to = cellUnder(e);
          if (to === undefined) return;
          const { cursor } = useMap.getState();
          const same = cursor?.column === to.column && cursor.row === to.row;
          useMap.setState({ cursor: to });
          if (touched.current && !same) return;
          const spot = nearestKnown(map, to.column, to.row);
          if (spot !== undefined) putThere(spot, 'place', shown.plan, fitting, index, shown.plan.job.display);
        }}
      >
        <meshBasicMaterial
          key={texture.uuid}
          map={texture}
          side={FrontSide}
          transparent
          opacity={stale ? 0.4 : 0.82}
          depthWrite={false}
          polygonOffset
          polygonOffsetFactor={-2}
          polygonOffsetUnits={-2}
        />
      </mesh>
      <Spot map={map} palette={palette} origin={skin.origin} />
    </group>
  );
}

/** The spot pointed at, ringed. */
function Spot({ map, palette, origin }: { map: MapShown; palette: Palette; origin: Skin['origin'] }) {
  const cursor = useMap((s) => s.cursor);
  const invalidate = useThree((s) => s.invalidate);
  const { columns, rows } = map.grid;
  const ring = useMemo(() => {
    if (cursor === null) return undefined;
    const spot = nearestKnown(map, cursor.column, cursor.row);
    const point = spot?.point;
    if (point === undefined || point === null) return undefined;
    const skin = map.skin as Skin;
    // The paint's own points round the spot: the ring lies on the shell.
    const [w, h] = [columns.length, rows.length];
    const corner = (du: number, dv: number) => nearest(skin, (cursor.column + du) / w, (cursor.row + dv) / h);
    return pairs([corner(0, 0), corner(1, 0), corner(1, 1), corner(0, 1)], true);
  }, [cursor, map, columns, rows]);
  useEffect(() => {
    if (ring !== undefined || origin.length > 0) invalidate();
  }, [ring, origin, invalidate]);
  if (ring === undefined) return null;
  return (
    <>
      <Lines segments={ring} color={palette.outline} width={5} through order={8} />
      <Lines segments={ring} color={palette.edge} width={2.5} through order={9} />
    </>
  );
}

/** The point of the painted shell at shares u, v of the map, between its own points. */
function nearest({ positions, share }: Skin, u: number, v: number): [number, number, number] {
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < share.length / 2; i++) {
    const d = Math.abs((share[2 * i] as number) - u) + Math.abs((share[2 * i + 1] as number) - v);
    if (d < least) [least, best] = [d, i];
  }
  return [positions[3 * best] as number, positions[3 * best + 1] as number, positions[3 * best + 2] as number];
}
