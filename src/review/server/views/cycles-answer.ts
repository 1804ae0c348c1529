import { toInstant } from '../../../../shared/base/ids.js';
import type { CyclesAnswer } from '../../../../shared/page/page-season.js';
import type { ReviewQueries } from '../../../monitor/ports/ports.js';
import type { FarmCalendar } from './farm-calendar.js';

const MOST_FACTS = 50_000;
/** More than anybody looks through for one to compare (judgement). */
const MOST_CYCLES = 60;

/** A tray from its sowing, or from when it came, until it left. */
interface TrayLife {
  readonly crop: string;
  readonly fromMs: number;
  readonly toMs: number | undefined;
}

/** Crop cycles: the trays of one crop that were sown on one day, as one. Trays without a crop have none. */
export async function cyclesAnswer(
  queries: ReviewQueries,
  nowMs: number,
  calendar: FarmCalendar,
): Promise<CyclesAnswer> {
  const cycles = new Map<string, TrayLife[]>();
  for (const life of await trayLives(queries, nowMs)) {
    const key = `${calendar.dayOf(life.fromMs)} ${life.crop}`;
    cycles.set(key, [...(cycles.get(key) ?? []), life]);
  }
  return {
    cycles: [...cycles.values()]
      .map((lives) => ({
        crop: lives[0]?.crop ?? '',
        fromMs: Math.min(...lives.map(({ fromMs }) => fromMs)),
        toMs: Math.max(...lives.map(({ toMs }) => toMs ?? nowMs)),
        isOver: lives.every(({ toMs }) => toMs !== undefined),
        trayCount: lives.length,
      }))
      .sort((a, b) => b.fromMs - a.fromMs || a.crop.localeCompare(b.crop))
      .slice(0, MOST_CYCLES)
      .map(({ fromMs, toMs, ...cycle }) => ({ ...cycle, from: toInstant(fromMs), to: toInstant(toMs) })),
  };
}

async function trayLives(queries: ReviewQueries, nowMs: number): Promise<readonly TrayLife[]> {
  const facts = await queries.facts(['tray-event'], { fromMs: 0, toMs: nowMs + 1 }, MOST_FACTS);
  const open = new Map<string, TrayLife>();
  const ended: TrayLife[] = [];
  for (const fact of facts) {
    if (fact.kind !== 'tray-event' || fact.undone === true) continue;
    const { event } = fact;
    const atMs = Date.parse(event.at);
    const life = open.get(event.tray);
    if (event.event === 'new' && event.crop !== undefined)
      open.set(event.tray, {
        crop: event.crop,
        fromMs: event.sownAt === undefined ? atMs : Date.parse(event.sownAt),
        toMs: undefined,
      });
    if (life === undefined) continue;
    if (event.event === 'sown') open.set(event.tray, { ...life, fromMs: atMs });
    if (event.event === 'ended' || event.event === 'potted-on') {
      ended.push({ ...life, toMs: atMs });
      open.delete(event.tray);
    }
  }
  return [...ended, ...open.values()];
}
