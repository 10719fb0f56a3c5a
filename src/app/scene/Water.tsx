import { Canvas } from '@react-three/fiber';
import { memo, useCallback, useEffect, useMemo, useRef, useState } from 'react';
import { type Matrix4, type Mesh, Vector3 } from 'three';
import { addScaled, scale, type Vec3 } from '../../../geometry/math/vec.ts';
import { Player } from '../sequence/Player.tsx';
import { Scrubber } from '../sequence/Scrubber.tsx';
import type { Shown } from '../store/planning.ts';
import { type Look, lookFrom, type Stance, useView } from '../store/view.ts';
import { BandView } from '../sure/Band.tsx';
import { SceneWords, UnseenWords } from '../text/SceneWords.tsx';
import type { DrawnMember, ScreenFitting } from '../worker/protocol.ts';
import { directionOnScreen, sceneFromShip } from './basis.ts';
import { Diver } from './Diver.tsx';
import { Eye, type View } from './Eye.tsx';
import { Gauge } from './Gauge.tsx';
import { type Grip, Handles } from './Handles.tsx';
import { Legend } from './Legend.tsx';
import { LugView } from './LugView.tsx';
import { MapOnShell } from './MapOnShell.tsx';
import { Marks, tagsOf } from './Marks.tsx';
import { canDraw, NoPicture, PictureGuard } from './NoPicture.tsx';
import { Pointing } from './Pointing.tsx';
import { PALETTES } from './palette.ts';
import { ScaleBar } from './ScaleBar.tsx';
import { ShellView } from './ShellView.tsx';
import { Solids, solidTags } from './Solids.tsx';
import { type Tag, TagLayer, TagMover } from './Tags.tsx';

interface Props {
  readonly shown: Shown;
  readonly fitting: ScreenFitting;
  readonly index: number;
}

const NO_GAS: readonly never[] = [];

const LOOKS: readonly { readonly look: Look; readonly label: string }[] = [
  { look: 'stance', label: 'our stand' },
  { look: 'ahead', label: 'ahead' },
  { look: 'astern', label: 'astern' },
  { look: 'outboard', label: 'outboard' },
  { look: 'keel', label: 'keel' },
  { look: 'below', label: 'below' },
  { look: 'ship', label: 'far off' },
];

/** Drawn anew for a new plan only: the job's text changes before its plan is there. */
export default memo(function Water({ shown, fitting, index }: Props) {
  const { plan, drawing } = shown;
  const stance = useView((s) => s.stance);
  const theme = useView((s) => s.theme);
  const look = useView((s) => s.look);
  const snap = useView((s) => s.snap);
  const diver = useView((s) => s.diver);
  const inWords = useView((s) => s.inWords);
  const [host, setHost] = useState<HTMLElement | null>(null);
  const [held, setHeld] = useState<Grip | undefined>(undefined);
  const [lost, setLost] = useState(false);
  const near = useRef<Mesh>(null);
  const far = useRef<Mesh>(null);
  const metresPerPixel = useRef(0.002);
  const bar = useRef<(scale: number) => void>(undefined);
  const palette = PALETTES[theme];
  const display = plan.job.display;
  const clear = useClearPart(host);

  // The world stands still while a lug is moved in it: its middle changes with the lug looked at, not with every step.
  const middle = useMiddle(fitting, index, held !== undefined);
  const matrix = useMemo(() => sceneFromShip(plan.up, middle), [plan.up, middle]);
  const { lug } = fitting.input;
  const size = Math.max(lug.pinHeight + lug.topRadius, lug.foot);
  const reach = size * (stance === 'desk' ? 1.9 : 1.3);
  const view = useMemo(() => viewOf(look.name, stance, fitting, matrix, size), [look, stance, fitting, matrix, size]);
  const asked = `${look.name}${look.asked}${stance}${index}${middle.join()}`;
  const onScale = useCallback((scale: number) => {
    metresPerPixel.current = scale;
    bar.current?.(scale);
  }, []);
  const tags = useTags(fitting, stance, shown, size, reach);
  const grips: readonly Grip[] =
    stance === 'bench' ? ['place', 'heading', 'lean', 'pull'] : stance === 'desk' ? ['pull', 'heading', 'lean'] : [];

  return (
    <>
      <section
        className="water"
        ref={setHost}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: arrow keys turn the eye
        tabIndex={0}
        aria-label="The water: arrows look round, shift and arrows move sideways, plus and minus come nearer and go off"
      >
        {drawing === null ? (
          <NoPicture reason={shown.missing ?? 'there is nothing to draw'} />
        ) : !canDraw() ? (
          <NoPicture reason="this browser does not draw in depth here (WebGL is off)" />
        ) : (
          <PictureGuard>
            <Canvas
              frameloop="demand"
              flat
              dpr={[1, 2]}
              camera={{ fov: 32, near: 0.02, far: 120 }}
              gl={{ antialias: true, alpha: true, preserveDrawingBuffer: false }}
              onCreated={({ gl }) => {
                gl.domElement.addEventListener('webglcontextlost', (e) => {
                  e.preventDefault();
                  setLost(true);
                });
                gl.domElement.addEventListener('webglcontextrestored', () => setLost(false));
              }}
            >
              <fog attach="fog" args={[palette.fog, 3, 16]} />
              <hemisphereLight args={[palette.sky, palette.ground, palette.light[0]]} />
              <directionalLight position={[2, 4, 3]} intensity={palette.light[1]} />
              <directionalLight position={[-1, -2, 2]} intensity={palette.light[2]} />
              <group matrix={matrix} matrixAutoUpdate={false}>
                <ShellView drawing={drawing} palette={palette} near={near} far={far} />
                {stance !== 'water' && <MapOnShell shown={shown} fitting={fitting} index={index} palette={palette} />}
                {plan.fittings.map((f, i) => {
                  const drawn = shown.lugs[i];
                  return drawn === undefined ? null : (
                    <LugView key={f.id} frame={f.frame} lug={drawn} palette={palette} faint={i !== index} />
                  );
                })}
                <Marks
                  fitting={fitting}
                  plan={plan}
                  stance={stance}
                  palette={palette}
                  size={size}
                  reach={reach}
                  gas={shown.lugs[index]?.gas ?? NO_GAS}
                />
                {plan.job.lift !== undefined && <Solids solids={plan.job.lift.keepClear} palette={palette} />}
                {stance === 'bench' && (
                  <BandView request={shown.request} fitting={fitting} index={index} palette={palette} />
                )}
                <Handles
                  job={plan.job}
                  fitting={fitting}
                  index={index}
                  display={display}
                  palette={palette}
                  matrix={matrix}
                  shell={[near, far]}
                  reach={reach}
                  size={size}
                  grips={grips}
                  onHold={setHeld}
                />
                <Pointing
                  fitting={fitting}
                  matrix={matrix}
                  shell={near}
                  size={size}
                  held={held !== undefined}
                  palette={palette}
                />
                {diver && <Diver fitting={fitting} up={plan.up} palette={palette} />}
              </group>
              <Eye view={{ ...view, asked }} clear={clear} host={host} held={held !== undefined} onScale={onScale} />
              <Gauge host={host} />
              <TagMover tags={tags} matrix={matrix} host={host} clear={clear} />
            </Canvas>
            <TagLayer tags={tags} />
            {lost && (
              <NoPicture reason="the graphics card let go of the picture; it comes back by itself or after a reload" />
            )}
          </PictureGuard>
        )}
      </section>
      <div className="stage">
        {!inWords && (
          <Legend
            request={shown.request}
            plan={plan}
            fitting={fitting}
            index={index}
            stance={stance}
            display={display}
          />
        )}
        {stance === 'water' && <Player fitting={fitting} display={display} />}
        {stance === 'desk' && <Scrubber plan={plan} fitting={fitting} display={display} />}
        <div className="clear" />
        {inWords && <SceneWords plan={plan} fitting={fitting} display={display} drawing={drawing} />}
        <div className="below">
          <nav className="looks" aria-label="Where to look from">
            <span>look from</span>
            {LOOKS.map((l) => (
              <button key={l.look} type="button" aria-pressed={look.name === l.look} onClick={() => lookFrom(l.look)}>
                {l.label}
              </button>
            ))}
            {stance !== 'water' && (
              <button
                type="button"
                aria-pressed={snap}
                title="While dragging: whole steps; Alt holds it off"
                onClick={() => useView.setState({ snap: !snap })}
              >
                whole steps
              </button>
            )}
            <button type="button" aria-pressed={diver} onClick={() => useView.setState({ diver: !diver })}>
              a diver
            </button>
            <button type="button" aria-pressed={inWords} onClick={() => useView.setState({ inWords: !inWords })}>
              in words
            </button>
          </nav>
          <ScaleBar display={display} paint={bar} />
        </div>
      </div>
      <div className="unseen">
        {!inWords && <UnseenWords plan={plan} fitting={fitting} display={display} drawing={drawing} />}
      </div>
    </>
  );
});

/** What no panel covers, within the water, pixels. */
function useClearPart(host: HTMLElement | null) {
  const [clear, setClear] = useState({ x: 0, y: 0, width: 800, height: 600 });
  useEffect(() => {
    if (host === null) return;
    const stage = host.parentElement?.querySelector('.stage > .clear');
    if (!(stage instanceof HTMLElement)) return;
    const measure = (): void => {
      const [s, h] = [stage.getBoundingClientRect(), host.getBoundingClientRect()];
      if (s.width < 10 || s.height < 10) return;
      setClear({ x: s.left - h.left, y: s.top - h.top, width: s.width, height: s.height });
    };
    measure();
    const watch = new ResizeObserver(measure);
    watch.observe(stage);
    watch.observe(host);
    return () => watch.disconnect();
  }, [host]);
  return clear;
}

/** How far a lug may be moved before the eye follows it, mm. */
const FOLLOW = 500;

function useMiddle(fitting: ScreenFitting, index: number, held: boolean): Vec3 {
  const kept = useRef<{ index: number; middle: Vec3 }>(undefined);
  const { anchor, frame, input } = fitting;
  const here = addScaled(anchor.position, frame.stem, input.lug.pinHeight * 0.85);
  const last = kept.current;
  const moved =
    last === undefined
      ? Infinity
      : Math.hypot(...[0, 1, 2].map((k) => (here[k] as number) - (last.middle[k] as number)));
  if (last === undefined || last.index !== index || (!held && moved > FOLLOW)) kept.current = { index, middle: here };
  return (kept.current as { middle: Vec3 }).middle;
}

function viewOf(
  look: Look,
  stance: Stance,
  fitting: ScreenFitting,
  matrix: Matrix4,
  size: number,
): Omit<View, 'asked'> {
  const { frame, anchor } = fitting;
  const on = (d: Vec3): Vec3 => {
    const v = directionOnScreen(matrix, d);
    return [v.x, v.y, v.z];
  };
  const mix = (...parts: readonly (readonly [number, Vec3])[]): Vec3 =>
    parts.reduce<Vec3>((sum, [k, d]) => addScaled(sum, d, k), [0, 0, 0]);
  const outward = on([0, anchor.side === 'port' ? 1 : -1, 0]);
  const fore: Vec3 = on([1, 0, 0]);
  const below: Vec3 = [0, -1, 0];
  // Along the foot, from the end that lies forward or, across the ship, outboard: the bevel is seen edge-on.
  const foot = on(frame.foot);
  const endOn = frame.foot[0] >= -0.2 ? foot : scale(foot, -1);
  const face = on(frame.face);
  const strikeFace = fitting.sequence.start.side === 'face+' ? face : scale(face, -1);
  const m = size * 0.001;
  // The diver looks at the foot, the others at the lug with its pull.
  const atFoot = new Vector3(...addScaled(anchor.position, frame.stem, size * 0.22)).applyMatrix4(matrix);
  const target: Vec3 = stance === 'water' && look === 'stance' ? [atFoot.x, atFoot.y, atFoot.z] : [0, 0, 0];
  const normal = on(anchor.normal);
  const views: Readonly<Record<Look, { direction: Vec3; distance: number }>> = {
    stance:
      stance === 'bench'
        ? { direction: mix([1, endOn], [0.34, outward], [0.12, normal]), distance: m * 4.6 }
        : stance === 'water'
          ? { direction: mix([0.8, strikeFace], [0.62, endOn], [0.55, normal], [0.2, below]), distance: m * 2.6 }
          : { direction: mix([1, endOn], [0.5, outward], [0.2, normal]), distance: m * 6.6 },
    ahead: { direction: mix([1, fore], [0.05, below]), distance: m * 5 },
    astern: { direction: mix([-1, fore], [0.05, below]), distance: m * 5 },
    outboard: { direction: mix([1, outward], [0.15, below]), distance: m * 5 },
    keel: { direction: mix([-1, outward], [0.75, below]), distance: m * 5 },
    below: { direction: mix([1, below], [0.02, fore]), distance: m * 5 },
    ship: { direction: mix([0.8, fore], [0.5, outward], [0.45, below]), distance: 9 },
  };
  return { target, ...views[look] };
}

/** Names of what is behind and on the plating near the lug. In the water only what the welder must keep off. */
function memberTags(members: readonly DrawnMember[], stance: Stance): Tag[] {
  return members.flatMap(({ kind, name, label }, i): Tag[] => {
    if (label === null || (stance === 'water' && kind !== 'keep-clear')) return [];
    if (kind === 'keep-clear') return [{ id: `member${i}`, text: `keep clear: ${name}`, at: label, kind: 'keep' }];
    return [{ id: `member${i}`, text: kind === 'seam' ? `seam ${name}` : name, at: label, kind: 'member' }];
  });
}

function useTags(fitting: ScreenFitting, stance: Stance, shown: Shown, size: number, reach: number) {
  const laid = useView((s) => (stance === 'water' ? Math.floor(s.laid) : 0));
  return useMemo(
    () => [
      ...tagsOf(fitting, stance, shown.plan, size, reach, laid),
      ...memberTags(shown.drawing?.members ?? [], stance),
      ...solidTags(shown.plan.job.lift?.keepClear ?? []),
    ],
    [fitting, stance, shown, size, reach, laid],
  );
}
