import { useEffect, useMemo } from 'react';
import { BufferAttribute, BufferGeometry, DoubleSide, Quaternion, Vector3 } from 'three';
import { add, addScaled, dot, scale, type Vec3 } from '../../../geometry/math/vec.ts';
import { showFigure } from '../../job/show.ts';
import { sweepOf } from '../answers/answers.ts';
import { type Stance, useView } from '../store/view.ts';
import type { GasTrail, ScreenFitting, ScreenPlan } from '../worker/protocol.ts';
import { Lines, pairs } from './lines.tsx';
import {
  arrowHead,
  bevelMarks,
  paintedRoot,
  pullMarks,
  rootPoints,
  rootSpot,
  trailAt,
  ventOf,
  workAt,
} from './marks.ts';
import type { Palette } from './palette.ts';
import { scaleOf } from './scale.ts';
import type { Tag } from './Tags.tsx';

/** Dash and gap, mm. */
const DASHES = { pressed: [14, 10], beyond: [16, 10], plane: [18, 14], gas: [6, 7] } as const;

interface Props {
  readonly fitting: ScreenFitting;
  readonly plan: ScreenPlan;
  readonly stance: Stance;
  readonly palette: Palette;
  readonly size: number;
  readonly reach: number;
  /** Where gas goes, from the root on. */
  readonly gas: readonly GasTrail[];
}

/** Everything drawn about one lug beside its steel: root, pull, plumb, surface, bevel, runs and gas. Ship axes, mm. */
export function Marks({ fitting, plan, stance, palette, size, reach, gas }: Props) {
  const painted = useMemo(() => paintedRoot(fitting, scaleOf(fitting, stance).shares), [fitting, stance]);
  return (
    <>
      {stance !== 'water' && (
        <>
          <Lines segments={painted.segments} color={palette.outline} width={8} through order={2} />
          <Lines segments={painted.segments} colors={painted.colors} color="#fff" width={5} through order={3} />
        </>
      )}
      {stance === 'bench' && <Bevel fitting={fitting} palette={palette} size={size} />}
      {stance === 'water' ? (
        <Runs fitting={fitting} trails={gas} palette={palette} size={size} />
      ) : (
        <Pull fitting={fitting} palette={palette} reach={reach} strong={stance === 'desk'} />
      )}
      {stance === 'desk' && <Fan plan={plan} fitting={fitting} palette={palette} reach={reach} />}
      {stance === 'desk' && <LugPlane fitting={fitting} palette={palette} reach={reach} />}
      <Strike fitting={fitting} palette={palette} size={size} />
      <Plumb fitting={fitting} up={plan.up} palette={palette} size={size} />
      <Surface plan={plan} fitting={fitting} palette={palette} />
    </>
  );
}

function Pull({
  fitting,
  palette,
  reach,
  strong,
}: {
  fitting: ScreenFitting;
  palette: Palette;
  reach: number;
  strong: boolean;
}) {
  const marks = useMemo(() => pullMarks(fitting, reach), [fitting, reach]);
  const wedge = useMemo(() => fan(fitting.pin, marks.wedge), [fitting, marks]);
  useEffect(() => () => wedge.dispose(), [wedge]);
  const line = useMemo(() => {
    const head = arrowHead(marks.line[0], marks.line[1], reach * 0.06, fitting.frame.foot);
    return pairs2([[...marks.line], ...head]);
  }, [marks, reach, fitting]);
  const pressed = useMemo(() => pairs(marks.pressed), [marks]);
  return (
    <>
      <mesh geometry={wedge} dispose={null} raycast={() => {}}>
        <meshBasicMaterial
          color={palette.pull}
          transparent
          opacity={strong ? 0.45 : 0.3}
          side={DoubleSide}
          depthWrite={false}
        />
      </mesh>
      <Lines segments={line} color={palette.pull} width={3.5} />
      <Lines segments={pressed} color={palette.edge} width={1.5} dash={DASHES.pressed} />
    </>
  );
}

function fan(tip: Vec3, rim: readonly Vec3[]): BufferGeometry {
  const out: number[] = [];
  for (let i = 0; i + 1 < rim.length; i++) out.push(...tip, ...(rim[i] as Vec3), ...(rim[i + 1] as Vec3));
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(Float32Array.from(out), 3));
  return geometry;
}

/** Several polylines as pairs of points. */
const pairs2 = (lines: readonly (readonly Vec3[])[]): Float32Array =>
  Float32Array.from(lines.flatMap((l) => [...pairs(l as readonly (readonly [number, number, number])[])]));

/** The pull through its whole movement: a line for each point, the one looked at strong, those too far off the plane marked. */
function Fan({
  plan,
  fitting,
  palette,
  reach,
}: {
  plan: ScreenPlan;
  fitting: ScreenFitting;
  palette: Palette;
  reach: number;
}) {
  const moment = useView((s) => s.moment);
  const sweep = sweepOf(plan, fitting);
  const limit = plan.job.limits.sidewaysShare;
  const lines = useMemo(() => {
    const within: Vec3[][] = [];
    const beyond: Vec3[][] = [];
    for (const p of sweep?.pulls ?? [])
      if (p !== null)
        (p.sidewaysShare > limit ? beyond : within).push([
          fitting.pin,
          addScaled(fitting.pin, p.direction, reach * 1.1),
        ]);
    return { within: pairs2(within), beyond: pairs2(beyond) };
  }, [sweep, limit, fitting, reach]);
  const now = sweep?.pulls[Math.min(moment, (sweep?.pulls.length ?? 1) - 1)];
  const strong = useMemo(
    () => (now ? pairs([fitting.pin, addScaled(fitting.pin, now.direction, reach * 1.25)]) : new Float32Array()),
    [now, fitting, reach],
  );
  return (
    <>
      <Lines segments={lines.within} color={palette.good} width={1.5} opacity={0.75} />
      <Lines segments={lines.beyond} color={palette.strike} width={2} opacity={0.9} dash={DASHES.beyond} />
      <Lines segments={strong} color={palette.edge} width={4} />
    </>
  );
}

function LugPlane({ fitting, palette, reach }: { fitting: ScreenFitting; palette: Palette; reach: number }) {
  const { frame, input } = fitting;
  const corners = useMemo(() => {
    const at = (a: number, b: number): Vec3 => add(frame.origin, add(scale(frame.foot, a), scale(frame.stem, b)));
    const half = input.lug.foot * 0.75;
    const top = input.lug.pinHeight + reach;
    return [at(-half, 0), at(half, 0), at(half, top), at(-half, top)];
  }, [frame, input, reach]);
  const geometry = useMemo(() => fan(corners[0] as Vec3, corners.slice(1)), [corners]);
  useEffect(() => () => geometry.dispose(), [geometry]);
  const edge = useMemo(() => pairs(corners as [number, number, number][], true), [corners]);
  return (
    <>
      <mesh geometry={geometry} dispose={null} raycast={() => {}}>
        <meshBasicMaterial color={palette.plate} transparent opacity={0.1} side={DoubleSide} depthWrite={false} />
      </mesh>
      <Lines segments={edge} color={palette.edge} width={1} opacity={0.4} dash={DASHES.plane} />
    </>
  );
}

function Bevel({ fitting, palette, size }: { fitting: ScreenFitting; palette: Palette; size: number }) {
  const marks = useMemo(() => bevelMarks(fitting, size * 0.42), [fitting, size]);
  const arms = useMemo(() => pairs2([...marks.arms, marks.arc]), [marks]);
  const wedge = useMemo(() => fan((marks.arms[0] as Vec3[])[0] as Vec3, marks.arc), [marks]);
  useEffect(() => () => wedge.dispose(), [wedge]);
  return (
    <>
      <mesh geometry={wedge} dispose={null} raycast={() => {}} renderOrder={3}>
        <meshBasicMaterial
          color={palette.strike}
          transparent
          opacity={0.28}
          side={DoubleSide}
          depthWrite={false}
          depthTest={false}
        />
      </mesh>
      <Lines segments={arms} color={palette.edge} width={1.5} through order={4} />
    </>
  );
}

function Strike({ fitting, palette, size }: { fitting: ScreenFitting; palette: Palette; size: number }) {
  const { start } = fitting.sequence;
  const { at, turn } = useMemo(() => {
    const spot = rootSpot(fitting, start.s, 3);
    const n = fitting.anchor.normal;
    return { at: spot, turn: new Quaternion().setFromUnitVectors(new Vector3(0, 0, 1), new Vector3(...n)) };
  }, [fitting, start.s]);
  return (
    <group position={[...at]} quaternion={turn}>
      <mesh raycast={() => {}} renderOrder={5}>
        <torusGeometry args={[size * 0.045, size * 0.01, 10, 32]} />
        <meshBasicMaterial color={palette.strike} depthTest={false} transparent />
      </mesh>
    </group>
  );
}

function Runs({
  fitting,
  trails,
  palette,
  size,
}: {
  fitting: ScreenFitting;
  trails: readonly GasTrail[];
  palette: Palette;
  size: number;
}) {
  const laid = useView((s) => s.laid);
  const { runs } = fitting.sequence;
  const lines = useMemo(
    () =>
      runs.map((r) => {
        const points = rootPoints(fitting, r.fromS, r.toS, 2);
        const [p, q] = [points.at(-2) as Vec3, points.at(-1) as Vec3];
        return pairs2([points, ...arrowHead(p, q, size * 0.05, fitting.anchor.normal)]);
      }),
    [fitting, runs, size],
  );
  const whole = Math.floor(laid);
  const part = laid - whole;
  const current = runs[whole];
  const done = useMemo(
    () =>
      current === undefined || part === 0
        ? new Float32Array()
        : pairs(
            rootPoints(fitting, current.fromS, current.fromS + (current.toS - current.fromS) * part, 2.5) as [
              number,
              number,
              number,
            ][],
          ),
    [fitting, current, part],
  );
  const gas = useMemo(() => {
    const { s, run } = workAt(runs, laid);
    if (run === undefined) return undefined;
    const vent = ventOf(fitting, s);
    if (vent === undefined) return undefined;
    return {
      way: pairs([
        rootSpot(fitting, s, 0),
        ...trailAt(trails, s, fitting.root.perimeter),
        rootSpot(fitting, vent, 0),
      ] as [number, number, number][]),
      out: rootSpot(fitting, vent, 4),
      puddle: rootSpot(fitting, s, 4),
    };
  }, [fitting, trails, runs, laid]);
  return (
    <>
      {lines.map((l, i) => {
        const color = i < whole ? palette.good : i === whole ? palette.strike : palette.edge;
        const width = i < whole ? 6 : i === whole ? 5 : 2.5;
        // Strong where it is seen, faint where the plate stands in front.
        return (
          <group key={runs[i]?.run ?? i}>
            <Lines segments={l} color={color} width={width} opacity={i === whole ? 0.6 : 0.22} through order={2} />
            <Lines segments={l} color={color} width={width} order={3} />
          </group>
        );
      })}
      <Lines segments={done} color={palette.good} width={7} through order={4} />
      {gas !== undefined && (
        <>
          <Lines segments={gas.way} color={palette.gas} width={2.5} dash={DASHES.gas} through order={5} />
          {[0, 1, 2, 3].map((k) => (
            <mesh key={k} position={[gas.out[0], gas.out[1], gas.out[2] + 14 * (k + 1)]} raycast={() => {}}>
              <sphereGeometry args={[3.2 + k * 1.6, 10, 8]} />
              <meshBasicMaterial color={palette.gas} transparent opacity={0.75 - k * 0.14} />
            </mesh>
          ))}
          <mesh position={[...gas.puddle]} raycast={() => {}} renderOrder={6}>
            <sphereGeometry args={[size * 0.022, 14, 10]} />
            <meshBasicMaterial color={palette.strike} depthTest={false} transparent />
          </mesh>
        </>
      )}
    </>
  );
}

/** Where the plumb line hangs: beside the lug, on the side towards the water. Ship axes, mm. */
function plumbTop({ anchor, frame, input }: ScreenFitting): Vec3 {
  const out: Vec3 = [0, anchor.side === 'port' ? 1 : -1, 0];
  return add(addScaled(frame.origin, out, input.lug.foot * 0.9), scale(anchor.normal, 30));
}

function Plumb({ fitting, up, palette, size }: { fitting: ScreenFitting; up: Vec3; palette: Palette; size: number }) {
  const top = plumbTop(fitting);
  const bottom = addScaled(top, up, -size * 1.1);
  const line = useMemo(() => pairs([top, bottom] as [number, number, number][]), [top, bottom]);
  const turn = useMemo(() => new Quaternion().setFromUnitVectors(new Vector3(0, -1, 0), new Vector3(...up)), [up]);
  return (
    <>
      <Lines segments={line} color={palette.edge} width={1.2} opacity={0.8} />
      <group position={[...bottom]} quaternion={turn}>
        <mesh raycast={() => {}}>
          <coneGeometry args={[size * 0.025, size * 0.09, 16]} />
          <meshBasicMaterial color={palette.edge} />
        </mesh>
      </group>
    </>
  );
}

/** The surface of the water: a level plane at the floating line. */
function Surface({ plan, fitting, palette }: { plan: ScreenPlan; fitting: ScreenFitting; palette: Palette }) {
  const { up } = plan;
  const { anchor } = fitting;
  // The drafts fix one point of the floating line: on the centreline at the aft perpendicular.
  const rise = dot(up, [0, 0, plan.job.ship.draftAft]) - dot(up, anchor.position);
  const middle = addScaled(anchor.position, up, rise);
  const turn = useMemo(() => new Quaternion().setFromUnitVectors(new Vector3(0, 0, 1), new Vector3(...up)), [up]);
  return (
    <mesh position={[...middle]} quaternion={turn} raycast={() => {}} renderOrder={1}>
      <planeGeometry args={[30_000, 30_000]} />
      <meshBasicMaterial color={palette.surface} transparent opacity={0.22} side={DoubleSide} depthWrite={false} />
    </mesh>
  );
}

/** The words that stand in the scene, by stance. */
export function tagsOf(
  fitting: ScreenFitting,
  stance: Stance,
  plan: ScreenPlan,
  size: number,
  reach: number,
  laid: number,
): readonly Tag[] {
  const { display } = plan.job;
  const { sequence, load, fit } = fitting;
  const tags: Tag[] = [];
  const whole = laid;
  tags.push({
    id: 'strike',
    text: stance === 'water' && whole >= sequence.runs.length ? 'struck here' : 'strike here first',
    at: rootSpot(fitting, sequence.start.s, 3),
    kind: 'strike',
    off: [-26, 14],
  });
  if (stance === 'bench') {
    const bevel = bevelMarks(fitting, size * 0.42);
    tags.push({
      id: 'bevel',
      text:
        fit.chosen === 'straight'
          ? `bevel ${showFigure({ rad: Math.abs(fit.straight.bevel) }, display)}`
          : `bevel from ${showFigure({ rad: Math.abs(fitting.bevel.min) }, display)} to ${showFigure({ rad: Math.abs(fitting.bevel.max) }, display)}`,
      at: bevel.label,
      off: [-8, 6],
    });
  }
  if (stance !== 'water') {
    const pull = pullMarks(fitting, reach);
    tags.push({
      id: 'pull',
      text: `the pull, ${showFigure({ rad: Math.abs(load.offPlane) }, display)} off the plane`,
      at: pull.label,
      kind: 'pull',
      off: [18, -8],
    });
  }
  const top = plumbTop(fitting);
  tags.push({ id: 'plumb', text: 'plumb', at: addScaled(top, plan.up, -size * 1.15), off: [6, 0] });
  if (stance === 'water') {
    sequence.runs.forEach((r, i) => {
      tags.push({
        id: `run${r.run}`,
        text: String(r.run),
        at: rootSpot(fitting, (r.fromS + r.toS) / 2, 10),
        kind: 'run',
        state: i < whole ? 'laid' : i === whole ? 'next' : 'later',
        off: [6, 6],
      });
    });
    const run = sequence.runs[whole];
    if (run !== undefined && run.ventS !== null)
      tags.push({
        id: 'gas',
        text: run.ventOpen ? 'gas goes out here' : 'gas is shut in here',
        at: rootSpot(fitting, run.ventS, 30),
        off: [10, -22],
      });
  }
  return tags;
}
