import { useEffect, useRef, useState } from 'preact/hooks';

export type Point = readonly [x: number, y: number];

export interface PictureAxis {
  readonly from: number;
  readonly to: number;
  readonly label: string;
  readonly ticks: readonly { readonly at: number; readonly words: string }[];
}

/** What a drawing shows, in the units of its axes, within their ranges. Inks stand in it, not in a style sheet: a saved picture looks the same. */
export interface PictureSpec {
  readonly label: string;
  readonly x: PictureAxis;
  readonly y: PictureAxis;
  readonly areas?: readonly { readonly points: readonly Point[]; readonly fill: string }[];
  readonly lines: readonly {
    readonly points: readonly Point[];
    readonly ink: string;
    readonly width: number;
    readonly dash?: readonly number[];
    /** Written at the line's end. */
    readonly name?: string;
  }[];
  /** Round spots, of a size on the screen. */
  readonly dots?: readonly { readonly at: Point; readonly radiusPx: number; readonly ink: string }[];
  /** What the inks of areas stand for. */
  readonly key?: readonly { readonly name: string; readonly ink: string }[];
  /** Lines across the whole drawing, each with its word. */
  readonly levels?: readonly { readonly at: number; readonly name: string; readonly ink: string }[];
}

const INK = '#1c1510';
const GRID = '#ddd5c6';
const GROUND = '#fffdf6';
const FONT = '"Avenir Next", "Segoe UI", Roboto, "Noto Sans", "Liberation Sans", sans-serif';
const MARGIN_PX = { left: 46, right: 12, top: 14, bottom: 44 };
/** Beside the words at the left: their distance from the axis, and the axis' own name. */
const BESIDE_TICKS_PX = 26;
const ROW_PX = 24;
const KEY = { sidePx: 11, stepPx: 22 };
/** About the width of a letter at 13 px, and what two names keep between them. */
const LETTER_PX = 7;
const NAME_STEP_PX = 16;
const SAVED_WIDTH_PX = 960;

/** A drawing of lines at a given size, as an SVG that stands alone. */
export function PictureSvg({
  spec,
  widthPx,
  heightPx,
}: {
  readonly spec: PictureSpec;
  readonly widthPx: number;
  readonly heightPx: number;
}) {
  const { x, y } = spec;
  const room = marginsOf(spec);
  const inner = { width: widthPx - room.left - room.right, height: heightPx - room.top - room.bottom };
  const xOf = (value: number): number => room.left + ((value - x.from) / (x.to - x.from)) * inner.width;
  const yOf = (value: number): number => room.top + (1 - (value - y.from) / (y.to - y.from)) * inner.height;
  const path = (points: readonly Point[]): string =>
    points.map(([px, py]) => `${xOf(px).toFixed(1)},${yOf(py).toFixed(1)}`).join(' ');
  const bottom = room.top + inner.height;
  const names = placedNames(spec, xOf, yOf, widthPx);
  return (
    <svg
      xmlns="http://www.w3.org/2000/svg"
      width={widthPx}
      height={heightPx}
      viewBox={`0 0 ${widthPx} ${heightPx}`}
      font-family={FONT}
      font-size="13"
      fill={INK}
      role="img"
      aria-label={spec.label}
    >
      <rect width={widthPx} height={heightPx} fill={GROUND} />
      {y.ticks.map(({ at, words }) => (
        <g key={at}>
          <line x1={room.left} x2={widthPx - room.right} y1={yOf(at)} y2={yOf(at)} stroke={GRID} />
          <text x={room.left - 6} y={yOf(at) + 4} text-anchor="end">
            {words}
          </text>
        </g>
      ))}
      {x.ticks.map(({ at, words }) => (
        <g key={at}>
          <line x1={xOf(at)} x2={xOf(at)} y1={bottom} y2={bottom + 5} stroke={INK} />
          <text x={xOf(at)} y={bottom + 19} text-anchor="middle">
            {words}
          </text>
        </g>
      ))}
      <text x={room.left + inner.width / 2} y={heightPx - 6} text-anchor="middle" font-weight="600">
        {x.label}
      </text>
      <text
        transform={`translate(13 ${room.top + inner.height / 2}) rotate(-90)`}
        text-anchor="middle"
        font-weight="600"
      >
        {y.label}
      </text>
      {spec.areas?.map(({ points, fill }) => (
        <polygon key={path(points)} points={path(points)} fill={fill} />
      ))}
      {spec.lines.map(({ points, ink, width, dash }) => (
        <polyline
          key={`${ink} ${path(points)}`}
          points={path(points)}
          fill="none"
          stroke={ink}
          stroke-width={width}
          stroke-linejoin="round"
          stroke-dasharray={dash?.join(' ')}
        />
      ))}
      {spec.levels?.map(({ at, ink }) => (
        <line
          key={at}
          x1={room.left}
          x2={widthPx - room.right}
          y1={yOf(at)}
          y2={yOf(at)}
          stroke={ink}
          stroke-width="1.5"
          stroke-dasharray="10 4"
        />
      ))}
      {names.map(({ name, ink, atX, atY, anchor }) => (
        <text
          key={`${name} ${ink}`}
          x={atX}
          y={atY}
          text-anchor={anchor}
          font-weight="700"
          fill={ink}
          stroke={GROUND}
          stroke-width="4"
          paint-order="stroke"
        >
          {name}
        </text>
      ))}
      {spec.dots?.map(({ at: [px, py], radiusPx, ink }) => (
        <circle
          key={`${px} ${py}`}
          cx={xOf(px).toFixed(1)}
          cy={yOf(py).toFixed(1)}
          r={radiusPx.toFixed(1)}
          fill={ink}
        />
      ))}
      {placedKey(spec).map(({ name, ink, atX }) => (
        <g key={name}>
          <rect x={atX} y={room.top - KEY.stepPx} width={KEY.sidePx} height={KEY.sidePx} fill={ink} />
          <text x={atX + KEY.sidePx + 5} y={room.top - KEY.stepPx + KEY.sidePx}>
            {name}
          </text>
        </g>
      ))}
      <line x1={room.left} x2={widthPx - room.right} y1={bottom} y2={bottom} stroke={INK} />
    </svg>
  );
}

/** Room for the words at the left, as long as they are, and for a key above. */
function marginsOf({ y, key }: PictureSpec): typeof MARGIN_PX {
  const longest = Math.max(0, ...y.ticks.map(({ words }) => words.length));
  return {
    ...MARGIN_PX,
    left: Math.max(MARGIN_PX.left, longest * LETTER_PX + BESIDE_TICKS_PX),
    top: MARGIN_PX.top + (key === undefined ? 0 : KEY.stepPx),
  };
}

/** The key in one row above the drawing. */
function placedKey(spec: PictureSpec): { name: string; ink: string; atX: number }[] {
  let atX = marginsOf(spec).left;
  return (spec.key ?? []).map(({ name, ink }) => {
    const here = atX;
    atX += KEY.sidePx + KEY.stepPx + name.length * LETTER_PX;
    return { name, ink, atX: here };
  });
}

interface PlacedName {
  readonly name: string;
  readonly ink: string;
  readonly atX: number;
  readonly atY: number;
  readonly anchor: 'start' | 'end';
}

/** Names of levels at the left above their line, of lines at their end; what would meet is moved apart. */
function placedNames(
  spec: PictureSpec,
  xOf: (value: number) => number,
  yOf: (value: number) => number,
  widthPx: number,
): readonly PlacedName[] {
  const room = marginsOf(spec);
  const levels: PlacedName[] = [];
  for (const { at, name, ink } of [...(spec.levels ?? [])].sort((one, other) => other.at - one.at)) {
    const atY = Math.max(yOf(at) - 5, (levels.at(-1)?.atY ?? Number.NEGATIVE_INFINITY) + NAME_STEP_PX);
    levels.push({ name, ink, atX: room.left + 6, atY, anchor: 'start' });
  }
  const ends = spec.lines.flatMap(({ name, points, ink }): PlacedName[] => {
    const last = points.findLast(([px]) => px <= spec.x.to);
    if (name === undefined || last === undefined) return [];
    const spare = widthPx - room.right - xOf(last[0]);
    const fits = spare > name.length * LETTER_PX + 8;
    const atX = fits ? xOf(last[0]) + 6 : widthPx - room.right - 4;
    return [{ name, ink, atX, atY: yOf(last[1]) - (fits ? -4 : 8), anchor: fits ? 'start' : 'end' }];
  });
  const placed: PlacedName[] = [...levels];
  for (const one of ends.sort((a, b) => a.atY - b.atY)) {
    const width = (name: string): number => name.length * LETTER_PX;
    const left = (at: PlacedName): number => (at.anchor === 'end' ? at.atX - width(at.name) : at.atX);
    const isNear = (other: PlacedName): boolean =>
      left(other) < left(one) + width(one.name) && left(one) < left(other) + width(other.name);
    let { atY } = one;
    for (const other of placed.filter(isNear).sort((a, b) => a.atY - b.atY))
      if (Math.abs(other.atY - atY) < NAME_STEP_PX) atY = other.atY + NAME_STEP_PX;
    placed.push({ ...one, atY });
  }
  return placed;
}

/** A drawing that keeps the width it is given. */
export function Picture({ spec, heightPx }: { readonly spec: PictureSpec; readonly heightPx: number }) {
  const place = useRef<HTMLDivElement>(null);
  const [widthPx, setWidthPx] = useState(0);
  useEffect(() => {
    const element = place.current;
    if (element === null) return;
    const measure = (): void => setWidthPx(Math.floor(element.clientWidth));
    measure();
    const watcher = new ResizeObserver(measure);
    watcher.observe(element);
    return () => watcher.disconnect();
  }, []);
  return (
    <div class="plot picture" ref={place} style={{ height: `${heightPx}px` }}>
      {widthPx > 0 && <PictureSvg spec={spec} widthPx={widthPx} heightPx={heightPx} />}
    </div>
  );
}

/** The drawing as it is saved: wide enough for a page. */
export function SavedPicture({ spec }: { readonly spec: PictureSpec }) {
  const rows = MARGIN_PX.top + MARGIN_PX.bottom + spec.y.ticks.length * ROW_PX;
  const heightPx = Math.max(rows, Math.round(SAVED_WIDTH_PX * 0.45));
  return <PictureSvg spec={spec} widthPx={SAVED_WIDTH_PX} heightPx={heightPx} />;
}
