import type { SizeBand } from './curve-bands.js';

const WIDTH = 960;
const HEIGHT = 560;
/** Room that the label at the end of a curve takes. */
const LABEL = { width: 130, height: 42 } as const;
const PLOT = { left: 84, right: 780, top: 112, bottom: 470 } as const;

/**
 * Ink of each size in turn. Told apart by the colour-blind by lightness and by the dash as well as by hue, dark on paper; each
 * has more than 4.5 : 1 against the ground.
 */
const INKS = [
  { ink: '#8a3b12', dash: '' },
  { ink: '#1f5f8b', dash: '9 4' },
  { ink: '#4a6b1f', dash: '2 4' },
  { ink: '#6b3a77', dash: '14 4 2 4' },
  { ink: '#3d3d3d', dash: '5 3' },
] as const;
const GROUND = '#fbf8f1';
const SOIL = '#33291f';
const RULE = '#d9cfbd';

export interface CurvesPlotWords {
  readonly title: string;
  /** What was let through: bench, season, VPD. */
  readonly subtitle: string;
  /** The side of a block as the farm writes it. */
  readonly side: (sideMm: number) => string;
}

interface Scale {
  x(elapsedH: number): number;
  y(waterContentM3PerM3: number): number;
}

/**
 * Drying curves per block size as a picture for paper and screen: the median as a line, the 10-90 % band behind it, each
 * labelled where it ends with a block drawn to its size. Water content in percent of the block's volume over hours since the
 * watering.
 */
export function curvesSvg(bands: readonly SizeBand[], words: CurvesPlotWords): string {
  const drawn = bands.filter(({ points }) => points.length > 1);
  const lastH = Math.max(1, ...drawn.map(({ points }) => points.at(-1)?.elapsedH ?? 0));
  const wettest = Math.max(0.1, ...drawn.flatMap(({ points }) => points.map(({ p90M3PerM3 }) => p90M3PerM3)));
  const top = Math.ceil(wettest * 10) / 10;
  const scale: Scale = {
    x: (elapsedH) => PLOT.left + (elapsedH / lastH) * (PLOT.right - PLOT.left),
    y: (water) => PLOT.bottom - (water / top) * (PLOT.bottom - PLOT.top),
  };
  const text = 'font-family="Georgia, \'DejaVu Serif\', serif"';
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" width="${WIDTH}" height="${HEIGHT}" role="img" aria-labelledby="title about" ${text}>`,
    `<title id="title">${escaped(words.title)}</title>`,
    `<desc id="about">${escaped(description(drawn, words))}</desc>`,
    `<rect width="${WIDTH}" height="${HEIGHT}" fill="${GROUND}"/>`,
    label(PLOT.left, 40, words.title, 24),
    label(PLOT.left, 66, words.subtitle, 15),
    ...waterRules(scale, top),
    ...hourRules(scale, lastH),
    ...drawn.map((band, index) => refillRule(band, inkOf(index).ink, scale)),
    ...drawn.map((band, index) => bandShape(band, inkOf(index).ink, scale)),
    ...drawn.map((band, index) => medianLine(band, inkOf(index), scale)),
    ...endLabels(drawn, scale, words),
    label(PLOT.left - 40, PLOT.top - 16, 'water, % of the block', 13),
    label((PLOT.left + PLOT.right) / 2, PLOT.bottom + 44, 'hours since the watering', 14, 'middle'),
    label(PLOT.left, HEIGHT - 18, footnote(bands, words), 12),
    '</svg>',
    '',
  ].join('\n');
}

function inkOf(index: number): (typeof INKS)[number] {
  return INKS[index % INKS.length] ?? INKS[0];
}

function label(
  x: number,
  y: number,
  words: string,
  size: number,
  anchor = 'start',
  ink: string = SOIL,
): string {
  return `<text x="${round(x)}" y="${round(y)}" font-size="${size}" fill="${ink}" text-anchor="${anchor}" paint-order="stroke" stroke="${GROUND}" stroke-width="4">${escaped(words)}</text>`;
}

function waterRules(scale: Scale, top: number): readonly string[] {
  const lines = Math.round(top * 10);
  return Array.from({ length: lines + 1 }, (_, tenth) => {
    const y = round(scale.y(tenth / 10));
    const rule = `<line x1="${PLOT.left}" x2="${PLOT.right}" y1="${y}" y2="${y}" stroke="${RULE}" stroke-width="1"/>`;
    return rule + label(PLOT.left - 10, y + 5, `${tenth * 10}`, 13, 'end');
  });
}

function hourRules(scale: Scale, lastH: number): readonly string[] {
  const step = [1, 2, 3, 6, 12, 24, 48].find((hours) => lastH / hours <= 10) ?? 96;
  return Array.from({ length: Math.floor(lastH / step) + 1 }, (_, index) => {
    const x = scale.x(index * step);
    const tick = `<line x1="${round(x)}" x2="${round(x)}" y1="${PLOT.bottom}" y2="${PLOT.bottom + 6}" stroke="${SOIL}"/>`;
    return tick + label(x, PLOT.bottom + 22, `${index * step}`, 13, 'middle');
  });
}

/** Where blocks of this size want water. */
function refillRule({ refillPointM3PerM3: refill }: SizeBand, ink: string, scale: Scale): string {
  if (refill === undefined) return '';
  const y = round(scale.y(refill));
  const rule = `<line x1="${PLOT.left}" x2="${PLOT.right}" y1="${y}" y2="${y}" stroke="${ink}" stroke-width="1.2" stroke-dasharray="2 5"/>`;
  return rule + label(PLOT.left + 4, y - 5, 'refill', 12, 'start', ink);
}

function bandShape({ points }: SizeBand, ink: string, scale: Scale): string {
  const upper = points
    .slice(0, points.filter(({ p10M3PerM3 }) => p10M3PerM3 !== null).length)
    .map(({ elapsedH, p90M3PerM3 }) => `${round(scale.x(elapsedH))},${round(scale.y(p90M3PerM3))}`);
  const lower = points.flatMap(({ elapsedH, p10M3PerM3 }) =>
    p10M3PerM3 === null ? [] : [`${round(scale.x(elapsedH))},${round(scale.y(p10M3PerM3))}`],
  );
  if (lower.length < 2) return '';
  return `<polygon points="${[...upper, ...lower.reverse()].join(' ')}" fill="${ink}" fill-opacity="0.16"/>`;
}

function medianLine({ points }: SizeBand, { ink, dash }: (typeof INKS)[number], scale: Scale): string {
  const line = points.map(
    ({ elapsedH, p50M3PerM3 }) => `${round(scale.x(elapsedH))},${round(scale.y(p50M3PerM3))}`,
  );
  const dashes = dash === '' ? '' : ` stroke-dasharray="${dash}"`;
  return `<polyline points="${line.join(' ')}" fill="none" stroke="${ink}" stroke-width="2.6"${dashes}/>`;
}

/** Labels stand where their curves end, moved down where they would touch one above them. */
function endLabels(
  bands: readonly SizeBand[],
  scale: Scale,
  { side: sideWords }: CurvesPlotWords,
): readonly string[] {
  const placed: { readonly x: number; readonly y: number }[] = [];
  const touches = (x: number, y: number) =>
    placed.some((other) => Math.abs(other.x - x) < LABEL.width && Math.abs(other.y - y) < LABEL.height);
  return bands
    .flatMap((band, index) => {
      const end = band.points.at(-1);
      return end === undefined ? [] : [{ band, ink: inkOf(index).ink, end }];
    })
    .sort((a, b) => b.end.p50M3PerM3 - a.end.p50M3PerM3)
    .map(({ band, ink, end }) => {
      const x = scale.x(end.elapsedH) + 10;
      let y = scale.y(end.p50M3PerM3);
      while (touches(x, y)) y += 6;
      placed.push({ x, y });
      const side = Math.min(26, Math.max(7, band.blockSideMm / 2.5));
      const block = `<rect x="${round(x)}" y="${round(y - side / 2)}" width="${round(side)}" height="${round(side)}" fill="${ink}"/>`;
      const words = x + side + 7;
      const name = label(words, y + 1, sideWords(band.blockSideMm), 16, 'start', ink);
      const count = `${end.curveCount} of ${band.dryDownCount} drying`;
      return block + name + label(words, y + 17, count, 12);
    });
}

function footnote(bands: readonly SizeBand[], { side }: CurvesPlotWords): string {
  const scarce = bands.filter(({ points }) => points.length <= 1).map(({ blockSideMm }) => side(blockSideMm));
  const rest = scarce.length === 0 ? '' : ` Too few dry-downs to draw: ${scarce.join(', ')}.`;
  return `Line: median; band: the middle eight of ten. A watered tray stays in the count as “at most so wet”; lines stop where the middle one was watered or fewer than three are drying.${rest}`;
}

function description(bands: readonly SizeBand[], { side }: CurvesPlotWords): string {
  if (bands.length === 0) return 'No block size has enough dry-downs to draw.';
  return bands
    .map(({ blockSideMm, points }) => {
      const [first, last] = [points[0], points.at(-1)];
      const percent = (water: number | undefined) => Math.round((water ?? 0) * 100);
      return `${side(blockSideMm)} blocks: median from ${percent(first?.p50M3PerM3)} to ${percent(last?.p50M3PerM3)} percent in ${last?.elapsedH ?? 0} hours.`;
    })
    .join(' ');
}

function round(value: number): number {
  return Math.round(value * 10) / 10;
}

function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}
