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
    /** Written at the line's end where there is room, else in the key. */
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
const KEY = { sidePx: 11, strokePx: 30, stepPx: 22 };
const BESIDE_END_PX = 6;
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
  const left = leftOf(spec);
  const toX = widthPx - MARGIN_PX.right;
  const xOf = (value: number): number => left + ((value - x.from) / (x.to - x.from)) * (toX - left);
  const ends = lineEnds(spec, xOf);
  const fits = ({ name, atX }: LineEnd): boolean => atX + name.length * LETTER_PX < toX;
  const key = placedKey(
    spec,
    ends.filter((end) => !fits(end)),
    left,
    toX,
  );
  const room = { ...MARGIN_PX, left, top: MARGIN_PX.top + ((key.at(-1)?.row ?? -1) + 1) * KEY.stepPx };
  const inner = { width: widthPx - room.left - room.right, height: heightPx - room.top - room.bottom };
  const yOf = (value: number): number => room.top + (1 - (value - y.from) / (y.to - y.from)) * inner.height;
  const path = (points: readonly Point[]): string =>
    points.map(([px, py]) => `${xOf(px).toFixed(1)},${yOf(py).toFixed(1)}`).join(' ');
  const bottom = room.top + inner.height;
  const names = placedNames(spec, ends.filter(fits), left, yOf);
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
      {names.map(({ name, ink, atX, atY }) => (
        <text
          key={`${name} ${ink}`}
          x={atX}
          y={atY}
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
      {key.map(({ name, ink, dash, atX, row }) => (
        <g key={`${name} ${ink}`} transform={`translate(${atX} ${MARGIN_PX.top + row * KEY.stepPx})`}>
          {dash === undefined ? (
            <rect width={KEY.sidePx} height={KEY.sidePx} y={-KEY.sidePx / 2} fill={ink} />
          ) : (
            <line x2={KEY.strokePx} stroke={ink} stroke-width="3" stroke-dasharray={dash.join(' ')} />
          )}
          <text x={(dash === undefined ? KEY.sidePx : KEY.strokePx) + 5} y="4">
            {name}
          </text>
        </g>
      ))}
      <line x1={room.left} x2={widthPx - room.right} y1={bottom} y2={bottom} stroke={INK} />
    </svg>
  );
}

/** Room for the words at the left, as long as they are. */
function leftOf({ y }: PictureSpec): number {
  const longest = Math.max(0, ...y.ticks.map(({ words }) => words.length));
  return Math.max(MARGIN_PX.left, longest * LETTER_PX + BESIDE_TICKS_PX);
}

interface LineEnd {
  readonly name: string;
  readonly ink: string;
  readonly dash: readonly number[];
  readonly atX: number;
  readonly value: number;
}

/** Where each named line ends. */
function lineEnds(spec: PictureSpec, xOf: (value: number) => number): readonly LineEnd[] {
  return spec.lines.flatMap(({ name, points, ink, dash = [] }) => {
    const last = points.findLast(([px]) => px <= spec.x.to);
    return name === undefined || last === undefined
      ? []
      : [{ name, ink, dash, atX: xOf(last[0]) + BESIDE_END_PX, value: last[1] }];
  });
}

interface KeyEntry {
  readonly name: string;
  readonly ink: string;
  /** Of a line; an area has none. */
  readonly dash?: readonly number[] | undefined;
}

/** The key in rows above the drawing: what areas stand for, and lines whose name has no room at their end. */
function placedKey(
  spec: PictureSpec,
  lines: readonly LineEnd[],
  left: number,
  toX: number,
): readonly (KeyEntry & { readonly atX: number; readonly row: number })[] {
  let [atX, row] = [left, 0];
  const entries: readonly KeyEntry[] = [...(spec.key ?? []), ...lines];
  return entries.map(({ name, ink, dash }) => {
    const width = (dash === undefined ? KEY.sidePx : KEY.strokePx) + 5 + name.length * LETTER_PX;
    if (atX > left && atX + width > toX) [atX, row] = [left, row + 1];
    const here = atX;
    atX += width + KEY.stepPx;
    return { name, ink, dash, atX: here, row };
  });
}

interface PlacedName {
  readonly name: string;
  readonly ink: string;
  readonly atX: number;
  readonly atY: number;
}

/** Names of levels at the left above their line, of lines at their end; what would meet is moved apart. */
function placedNames(
  spec: PictureSpec,
  ends: readonly LineEnd[],
  left: number,
  yOf: (value: number) => number,
): readonly PlacedName[] {
  const levels: PlacedName[] = [];
  for (const { at, name, ink } of [...(spec.levels ?? [])].sort((one, other) => other.at - one.at)) {
    const atY = Math.max(yOf(at) - 5, (levels.at(-1)?.atY ?? Number.NEGATIVE_INFINITY) + NAME_STEP_PX);
    levels.push({ name, ink, atX: left + 6, atY });
  }
  const placed: PlacedName[] = [...levels];
  const width = ({ name }: PlacedName): number => name.length * LETTER_PX;
  for (const { name, ink, atX, value } of [...ends].sort((a, b) => b.value - a.value)) {
    const one: PlacedName = { name, ink, atX, atY: yOf(value) + 4 };
    const isNear = (other: PlacedName): boolean =>
      other.atX < one.atX + width(one) && one.atX < other.atX + width(other);
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
