import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

interface JudgedHour {
  readonly rem?: number;
  readonly product: { readonly p10: number; readonly p50: number; readonly p90: number } | null;
}

const SIZE = 640;
const MARGIN = 48;
const MOST_H = 72;
/** Bars of more hours than these cover each other. */
const MOST_BARS = 600;

/** Picture of a set's forecasts against what happened: p10 to p90 as a bar and p50 as a dot over the true hours; the diagonal is right. */
function pictureOf(set: string, hours: readonly JudgedHour[]): string {
  const at = (value: number): number => MARGIN + (Math.min(MOST_H, value) / MOST_H) * (SIZE - 2 * MARGIN);
  const y = (value: number): string => (SIZE - at(value)).toFixed(1);
  const judged = hours.filter(({ rem, product }) => rem !== undefined && rem <= MOST_H && product !== null);
  const every = Math.max(1, Math.ceil(judged.length / MOST_BARS));
  const bars = judged
    .filter((_, i) => i % every === 0)
    .map(({ rem = 0, product }) => {
      const { p10, p50, p90 } = product ?? { p10: 0, p50: 0, p90: 0 };
      const x = at(rem).toFixed(1);
      const inside = p10 <= rem && rem <= p90;
      return `<path class="${inside ? 'in' : 'out'}" d="M${x} ${y(p10)}V${y(p90)}"/><circle cx="${x}" cy="${y(p50)}" r="2"/>`;
    });
  const ticks = [0, 12, 24, 36, 48, 60, 72].map(
    (hour) =>
      `<text x="${at(hour)}" y="${SIZE - MARGIN + 18}">${hour}</text><text x="${MARGIN - 20}" y="${SIZE - at(hour) + 4}">${hour}</text>`,
  );
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${SIZE} ${SIZE}" font-family="sans-serif" font-size="12" text-anchor="middle">`,
    '<style>path{stroke-width:1.5;opacity:.45}.in{stroke:#2a7}.out{stroke:#c42}.line{stroke:#000;opacity:1}</style>',
    `<text x="${SIZE / 2}" y="24" font-size="15">${set}: hours foretold (up) against hours it took</text>`,
    ...bars,
    `<path class="line" d="M${at(0)} ${y(0)}L${at(MOST_H)} ${y(MOST_H)}"/>`,
    ...ticks,
    '</svg>',
  ].join('\n');
}

/** Draws every set that the scorer left its judged hours of in `scores`; returns the files written to `folder`. */
export function plotSets(scores: string, folder: string): string[] {
  return readdirSync(scores)
    .filter((set) => existsSync(join(scores, set, 'origins.jsonl')))
    .map((set) => {
      const lines = readFileSync(join(scores, set, 'origins.jsonl'), 'utf8')
        .split('\n')
        .filter(Boolean);
      const file = join(folder, `${set}.svg`);
      writeFileSync(
        file,
        pictureOf(
          set,
          lines.map((line) => JSON.parse(line) as JudgedHour),
        ),
      );
      return file;
    });
}
