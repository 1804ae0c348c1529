import pc from 'picocolors';
import type { TrayLine } from '../../../shared/facts/tray-line.js';
import type { FarmWords } from '../../watering/sentences/words/farm-words.js';
import { columns } from '../terminal/columns.js';
import { timeLeft, waterBar } from '../terminal/plain-words.js';

export interface TrayListPage {
  readonly trays: readonly TrayLine[];
  /** Present on the farm's clock, epoch ms. */
  readonly nowMs: number;
  readonly timeZone: string;
  readonly words: FarmWords;
}

const HEAD = ['tray', 'blocks', 'crop', 'cover', 'probe', 'germinated', 'last watered', 'has until refill'];
/** Nobody told, or there is none. */
const NONE = '-';

function germinated({ germinatedAt, sownAt }: TrayLine, day: (at: string) => string): string {
  if (germinatedAt !== undefined) return day(germinatedAt);
  return sownAt === undefined ? NONE : 'not yet';
}

function believed({ moistureIndex, hoursToRefill }: TrayLine): string {
  if (moistureIndex === undefined || hoursToRefill === undefined) return 'no forecast yet';
  return `${waterBar(moistureIndex, 0, 1)} ${timeLeft(hoursToRefill)}`;
}

/** One line a tray, grouped by bench in the order given. */
export function trayList({ trays, nowMs, timeZone, words }: TrayListPage): string {
  const dayFormat = new Intl.DateTimeFormat('en-GB', { timeZone, day: 'numeric', month: 'short' });
  const day = (at: string): string => dayFormat.format(Date.parse(at));
  const rows = trays.map((tray) => [
    tray.id,
    words.blocksCounted(tray.blockCount, tray.blockSideMm),
    tray.crop ?? NONE,
    tray.cover === 'none' ? NONE : tray.cover,
    tray.probes.join(', ') || NONE,
    germinated(tray, day),
    tray.lastWateredAt === undefined ? NONE : words.time(Date.parse(tray.lastWateredAt), nowMs),
    believed(tray),
  ]);
  const [head = '', ...lines] = columns([HEAD, ...rows]);
  const benches = [...new Set(trays.map(({ bench }) => bench))];
  return [
    pc.dim(`  ${head}`),
    ...benches.flatMap((bench) => [
      pc.bold(`bench ${bench}`),
      ...lines.filter((_, index) => trays[index]?.bench === bench).map((line) => `  ${line}`),
    ]),
  ].join('\n');
}
