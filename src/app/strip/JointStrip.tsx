import { scaleLinear } from 'd3-scale';
import { area, line } from 'd3-shape';
import { type KeyboardEvent, memo, type PointerEvent, useEffect, useMemo, useRef, useState } from 'react';
import { length } from '../../../geometry/math/vec.ts';
import { showFigure } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import type { JointPoint } from '../../plan/types.ts';
import { type Stance, useView } from '../store/view.ts';
import { sideNames, spotName } from '../text/sides.ts';
import type { ScreenFitting } from '../worker/protocol.ts';
import { stretches } from './stretches.ts';

interface Props {
  readonly fitting: ScreenFitting;
  readonly display: Display;
  readonly stance: Stance;
}

const MARGIN = { left: 14, right: 14 };
const FACE: Readonly<Record<string, string>> = {
  'face-': 'var(--face-minus)',
  'face+': 'var(--face-plus)',
  'end+': 'var(--end)',
  'end-': 'var(--end)',
};

/** The root line laid out flat: s from left to right over the four sides, with all that changes along it. */
export const JointStrip = memo(function JointStrip({ fitting, display, stance }: Props) {
  const box = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(900);
  useEffect(() => {
    const element = box.current;
    if (element === null) return;
    const watch = new ResizeObserver(() => {
      if (element.clientWidth > 50) setWidth(element.clientWidth);
    });
    watch.observe(element);
    return () => watch.disconnect();
  }, []);
  return (
    <section className="joint" aria-label="The joint, unrolled">
      <div ref={box} className="strip">
        <Drawn fitting={fitting} display={display} stance={stance} width={width} />
        <Pointer fitting={fitting} display={display} width={width} />
      </div>
      <Reading fitting={fitting} display={display} />
    </section>
  );
});

const Drawn = memo(function Drawn({ fitting, display, stance, width }: Props & { readonly width: number }) {
  const { joint, root, sequence, strength, weld, fit } = fitting;
  const narrow = width < 640;
  const names = useMemo(() => sideNames(fitting), [fitting]);
  const x = useMemo(
    () => scaleLinear([0, joint.perimeter], [MARGIN.left, width - MARGIN.right]),
    [joint.perimeter, width],
  );
  const rise = joint.highest.height - joint.lowest.height;
  const rows = { height: 19, heightTo: 52, gap: 72, gapTo: 100, band: 106, bandTo: 118 };
  const yHeight = scaleLinear([0, Math.max(rise, 1)], [rows.heightTo, rows.height]);
  const widest = Math.max(
    fit.tolerance * 1.25,
    ...joint.points.map((p) => Math.max(p.opening, stance === 'bench' ? p.openingSquare : 0)),
  );
  const most = Math.min(widest, fit.tolerance * 8);
  const yGap = scaleLinear([0, most], [rows.gapTo, rows.gap]).clamp(true);
  const { utilisation } = strength.use;
  const mostUse = Math.max(1, ...utilisation);
  const yUse = scaleLinear([0, mostUse], [rows.gapTo, rows.gap]);
  // A tenth of a pixel is finer than the eye: shorter paths are read faster.
  const points = [...joint.points];
  const heights = area<JointPoint>()
    .digits(1)
    .x((p) => x(p.s))
    .y0(rows.heightTo)
    .y1((p) => yHeight(p.height - joint.lowest.height));
  const edge = line<JointPoint>()
    .digits(1)
    .x((p) => x(p.s))
    .y((p) => yHeight(p.height - joint.lowest.height));
  const gap = area<JointPoint>()
    .digits(1)
    .x((p) => x(p.s))
    .y0(rows.gapTo)
    .y1((p) => yGap(p.opening));
  const square = line<JointPoint>()
    .digits(1)
    .x((p) => x(p.s))
    .y((p) => yGap(p.openingSquare));
  const use = area<JointPoint>()
    .digits(1)
    .x((p) => x(p.s))
    .y0(rows.gapTo)
    .y1((_, i) => yUse(utilisation[i] ?? 0));
  const pieces = useMemo(() => stretches(joint.points), [joint.points]);
  const { corners } = root;
  const mm = (v: number): string => showFigure({ mm: v }, display);
  const bottom = narrow ? 166 : 152;
  return (
    <svg
      viewBox={`0 0 ${width} ${bottom}`}
      width={width}
      height={bottom}
      role="img"
      aria-label={stripInWords(fitting, display)}
    >
      <text x={MARGIN.left} y={13}>
        {narrow ? `height, up to ${mm(rise)}` : `height along the root, up to ${mm(rise)} above its lowest point`}
      </text>
      <path d={heights(points) ?? ''} fill="var(--end)" opacity={0.45} />
      <path d={edge(points) ?? ''} fill="none" stroke="var(--chalk)" strokeWidth={1.6} />
      <text x={MARGIN.left} y={67}>
        {stance === 'desk'
          ? `use of the weld's strength, up to ${showFigure({ count: Math.max(...utilisation), digits: 2 }, display)}; thin line: all of it`
          : `opening at the root, gap scale to ${mm(most)}${narrow ? '' : `: filled after the cut, ${stance === 'bench' ? 'dashed before it (square), ' : ''}thin line the ${mm(fit.tolerance)} that is tight`}`}
      </text>
      {stance === 'desk' ? (
        <>
          <path d={use(points) ?? ''} fill="var(--pull)" opacity={0.7} />
          <path d={`M${x(0)} ${yUse(1)}H${x(joint.perimeter)}`} stroke="var(--good)" strokeWidth={1} />
        </>
      ) : (
        <>
          <path d={gap(points) ?? ''} fill="var(--strike)" opacity={0.75} />
          {stance === 'bench' && (
            <path d={square(points) ?? ''} fill="none" stroke="var(--quiet)" strokeDasharray="5 4" strokeWidth={1.2} />
          )}
          <path d={`M${x(0)} ${yGap(fit.tolerance)}H${x(joint.perimeter)}`} stroke="var(--good)" strokeWidth={1} />
        </>
      )}
      <path d={`M${x(0)} ${rows.gapTo}H${x(joint.perimeter)}`} stroke="var(--plate-edge)" />
      {pieces.map((p) => (
        <rect
          key={p.from}
          x={x(p.from)}
          y={rows.band}
          width={Math.max(1, x(p.to) - x(p.from))}
          height={rows.bandTo - rows.band}
          fill={FACE[p.side]}
          stroke="var(--plate-solid)"
        />
      ))}
      {(['face-', 'end+', 'face+', 'end-'] as const).map((side, i) => {
        const [from, to] = [x(corners[i] as number), x(corners[i + 1] as number)];
        const room = to - from;
        if (room < 100)
          return (
            <text
              key={side}
              className="strong"
              x={i === 3 ? to : from + room / 2}
              y={narrow && i === 1 ? 163 : 148}
              textAnchor={i === 3 ? 'end' : 'middle'}
            >
              {names[side]}
            </text>
          );
        const leg = weld.sides.find((w) => w.side === side);
        const here = pieces.filter((p) => p.side === side).map((p) => p.position);
        const position = [...new Set(here)].join(' then ');
        return (
          <text key={side} className="strong" x={from + 2} y={rows.bandTo + 16}>
            {names[side]}
            {room > 420 && `, going ${endWord(names[i === 0 ? 'end+' : 'end-'])}`}
            <tspan fill="var(--quiet)">
              {` · ${position}`}
              {room > 260 && leg !== undefined && ` · ${showFigure({ rad: leg.dihedral }, display)}`}
              {room > 330 && leg !== undefined && ` · leg ${mm(leg.calledLegAlongPlate)}`}
            </tspan>
          </text>
        );
      })}
      <circle
        cx={x(sequence.start.s)}
        cy={(rows.band + rows.bandTo) / 2}
        r={8}
        fill="var(--strike)"
        stroke="var(--plate-solid)"
        strokeWidth={2}
      />
      <text
        className="accent"
        x={x(sequence.start.s) + (x(sequence.start.s) > width * 0.7 ? -13 : 13)}
        y={rows.heightTo - 6}
        textAnchor={x(sequence.start.s) > width * 0.7 ? 'end' : 'start'}
        style={{ fontWeight: 700 }}
      >
        strike here first
      </text>
    </svg>
  );
});

const endWord = (name: string): string => {
  const word = name.replace(/ end$/, '');
  return word === 'keel' ? 'inboard' : word;
};

interface PointerProps {
  readonly fitting: ScreenFitting;
  readonly display: Display;
  readonly width: number;
}

/** Pointing along the strip, with a finger, a mouse, or the arrow keys. */
function Pointer({ fitting, display, width }: PointerProps) {
  const spot = useView((s) => s.spot);
  const perimeter = fitting.joint.perimeter;
  const x = scaleLinear([0, perimeter], [MARGIN.left, width - MARGIN.right]);
  const point = (e: PointerEvent<HTMLDivElement>): void => {
    const box = e.currentTarget.getBoundingClientRect();
    const s = x.invert(e.clientX - box.left);
    useView.setState({ spot: Math.min(perimeter, Math.max(0, s)) });
  };
  const step = (e: KeyboardEvent): void => {
    const by = { ArrowRight: 5, ArrowUp: 5, ArrowLeft: -5, ArrowDown: -5, PageUp: 50, PageDown: -50 }[e.key];
    const now = spot ?? fitting.sequence.start.s;
    if (e.key === 'Home') useView.setState({ spot: 0 });
    else if (e.key === 'End') useView.setState({ spot: perimeter });
    else if (e.key === 'Escape') useView.setState({ spot: null });
    else if (by !== undefined) useView.setState({ spot: (((now + by) % perimeter) + perimeter) % perimeter });
    else return;
    e.preventDefault();
  };
  return (
    <div
      className="pointer"
      role="slider"
      tabIndex={0}
      aria-label="Spot along the root"
      aria-valuemin={0}
      aria-valuemax={Math.round(perimeter)}
      aria-valuenow={Math.round(spot ?? fitting.sequence.start.s)}
      aria-valuetext={spotInWords(fitting, spot ?? fitting.sequence.start.s, display)}
      onPointerMove={point}
      onPointerDown={point}
      onPointerLeave={(e) => {
        if (e.pointerType === 'mouse') useView.setState({ spot: null });
      }}
      onKeyDown={step}
    >
      {spot !== null && <i style={{ left: x(spot) }} />}
    </div>
  );
}

/** The joint point nearest to s. */
export function pointAtS({ joint }: Pick<ScreenFitting, 'joint'>, s: number): { point: JointPoint; index: number } {
  let index = 0;
  joint.points.forEach((p, i) => {
    if (Math.abs(p.s - s) < Math.abs((joint.points[index] as JointPoint).s - s)) index = i;
  });
  return { point: joint.points[index] as JointPoint, index };
}

/** All that is known of one spot of the root, as pairs of name and figure. */
export function spotFigures(
  fitting: ScreenFitting,
  s: number,
  display: Display,
): readonly (readonly [string, string])[] {
  const { point, index } = pointAtS(fitting, s);
  const mm = (v: number): string => showFigure({ mm: v }, display);
  const force = fitting.strength.weldGroup.lineForce[index];
  const used = fitting.strength.use.utilisation[index];
  const leg = fitting.weld.sides.find((w) => w.side === point.side)?.calledLegAlongPlate;
  return [
    ['at', `${mm(point.s)}, ${spotName(fitting, point.s)}`],
    ['above the lowest', mm(point.height - fitting.joint.lowest.height)],
    ['opening after the cut', mm(point.opening)],
    ['before it', mm(point.openingSquare)],
    ['plate to shell', showFigure({ rad: point.dihedral }, display)],
    ['weld', `${point.weldingPosition.aws} (${point.weldingPosition.iso})`],
    ...(leg === undefined ? [] : [['leg', mm(leg)] as const]),
    ...(force === undefined ? [] : [['force', showFigure({ newtonPerMm: length(force) }, display)] as const]),
    ...(used === undefined ? [] : [['use of its strength', showFigure({ count: used, digits: 2 }, display)] as const]),
  ];
}

const spotInWords = (fitting: ScreenFitting, s: number, display: Display): string =>
  spotFigures(fitting, s, display)
    .map(([name, figure]) => `${name} ${figure}`)
    .join('; ');

function stripInWords(fitting: ScreenFitting, display: Display): string {
  const { joint, sequence } = fitting;
  return `The root line over ${showFigure({ mm: joint.perimeter }, display)}: it rises ${showFigure({ mm: joint.highest.height - joint.lowest.height }, display)}, the angle between plate and shell runs from ${showFigure({ rad: joint.dihedral.min }, display)} to ${showFigure({ rad: joint.dihedral.max }, display)}. Strike first at ${spotName(fitting, sequence.start.s)}.`;
}

function Reading({ fitting, display }: { fitting: ScreenFitting; display: Display }) {
  const spot = useView((s) => s.spot);
  if (spot === null)
    return (
      <p className="read">
        <span>Point along the strip, or at the root in the water, to read one spot.</span>
      </p>
    );
  return (
    <p className="read">
      {spotFigures(fitting, spot, display).map(([name, figure]) => (
        <b key={name} style={{ fontWeight: 600 }}>
          <span style={{ fontWeight: 400 }}>{name} </span>
          {figure}
        </b>
      ))}
    </p>
  );
}
