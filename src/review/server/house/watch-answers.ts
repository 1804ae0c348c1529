import type { WatchmanHealth } from '../../../watering/desk/watering-desk.js';
import type { FarmPresent, PageFeed } from '../../feed/page-feed.js';

/** The loop that reads and decides has not come round for so long: as long as the service's watchdog waits. */
export const STANDSTILL_MS = 180_000;

/** What the process is and uses. */
export interface Vitals {
  readonly version: string;
  readonly startedAtMs: number;
  readonly residentBytes: number;
  readonly cpuS: number;
  /** Since the loop that does the work came round last. */
  readonly standstillMs: number;
}

/** Parts that are not as they should be, and a loop that stands still. */
function unwell(health: readonly WatchmanHealth[], vitals: Vitals | undefined): readonly WatchmanHealth[] {
  const stuck: WatchmanHealth = { kind: 'monitor', source: 'monitor', ok: false, reason: 'stands-still' };
  return [...((vitals?.standstillMs ?? 0) > STANDSTILL_MS ? [stuck] : []), ...health.filter(({ ok }) => !ok)];
}

/** What is wrong with the watchman, each in two words: `board silent`; names only for who may know them. */
export function wrongWords(
  health: readonly WatchmanHealth[],
  vitals: Vitals | undefined,
  withNames: boolean,
): readonly string[] {
  const words = unwell(health, vitals).map(({ kind, source, reason }) =>
    withNames ? `${kind} ${reason} ${source}` : `${kind} ${reason}`,
  );
  return [...new Set(words)];
}

type Labels = Readonly<Record<string, string>>;
interface Family {
  readonly name: string;
  readonly type: 'gauge' | 'counter' | 'info';
  readonly unit?: string;
  readonly help: string;
  readonly samples: readonly (readonly [Labels, number | undefined])[];
}

/** OpenMetrics 1.0 §ABNF: escaped-string. */
function escaped(text: string): string {
  return text.replace(/\\/g, '\\\\').replace(/"/g, '\\"').replace(/\n/g, '\\n');
}

const SUFFIX = { gauge: '', counter: '_total', info: '_info' } as const;

function familyText({ name, type, unit, help, samples }: Family): string {
  const lines = samples.flatMap(([labels, value]) => {
    if (value === undefined) return [];
    const list = Object.entries(labels).map(([key, text]) => `${key}="${escaped(text)}"`);
    return [`${name}${SUFFIX[type]}${list.length === 0 ? '' : `{${list.join(',')}}`} ${value}`];
  });
  const unitLine = unit === undefined ? [] : [`# UNIT ${name} ${unit}`];
  return [`# TYPE ${name} ${type}`, ...unitLine, `# HELP ${name} ${escaped(help)}`, ...lines, ''].join('\n');
}

function processFamilies({ startedAtMs, residentBytes, cpuS, standstillMs }: Vitals): readonly Family[] {
  const one = (value: number) => [[{}, value]] as const;
  return [
    {
      name: 'drybell_standstill_seconds',
      type: 'gauge',
      unit: 'seconds',
      help: 'Since the loop that reads and decides came round last.',
      samples: one(standstillMs / 1000),
    },
    {
      name: 'process_resident_memory_bytes',
      type: 'gauge',
      unit: 'bytes',
      help: 'Memory in use.',
      samples: one(residentBytes),
    },
    {
      name: 'process_cpu_seconds',
      type: 'counter',
      unit: 'seconds',
      help: 'Processor time used.',
      samples: one(cpuS),
    },
    {
      name: 'process_start_time_seconds',
      type: 'gauge',
      unit: 'seconds',
      help: 'When the process was started, Unix time.',
      samples: one(startedAtMs / 1000),
    },
  ];
}

function farmFamilies({ health, trays, forecasts, standing }: FarmPresent): readonly Family[] {
  const lasting = trays.flatMap(({ id }) => forecasts.get(id) ?? []);
  return [
    {
      name: 'drybell_part_ok',
      type: 'gauge',
      help: '1 where a part of the watchman is as it should be, 0 where not.',
      samples: health.map(({ kind, source, ok }) => [{ kind, source }, ok ? 1 : 0]),
    },
    {
      name: 'drybell_alarms_standing',
      type: 'gauge',
      help: 'Alarms that are not normal, by kind and state.',
      samples: [...countBy(standing, ({ kind, state }) => JSON.stringify({ kind, state }))].map(
        ([labels, count]) => [JSON.parse(labels) as Labels, count],
      ),
    },
    {
      name: 'drybell_tray_hours_to_refill',
      type: 'gauge',
      help: 'Hours until the mean block of a tray is at its refill point, tenth, half and nine tenths of the forecast.',
      samples: lasting.flatMap(({ tray, hoursToRefill }) =>
        (['p10', 'p50', 'p90'] as const).map((p) => [{ tray, p }, hoursToRefill[p] ?? undefined] as const),
      ),
    },
    {
      name: 'drybell_tray_water_content_m3_per_m3',
      type: 'gauge',
      help: 'Water in the mean block of a tray, as believed.',
      samples: lasting.map(({ tray, waterContentM3PerM3 }) => [{ tray }, waterContentM3PerM3]),
    },
  ];
}

function countBy<T>(list: readonly T[], keyOf: (one: T) => string): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const one of list) counts.set(keyOf(one), (counts.get(keyOf(one)) ?? 0) + 1);
  return counts;
}

/** Type of what `metrics` gives: OpenMetrics 1.0. */
export const METRICS_TYPE = 'application/openmetrics-text; version=1.0.0; charset=utf-8';

/** The house in OpenMetrics, for whatever gathers such numbers. */
export function metrics(live: PageFeed, farm: string, vitals: Vitals | undefined): string {
  const info: Family = {
    name: 'drybell',
    type: 'info',
    help: 'Which program for which farm.',
    samples: [[{ farm, version: vitals?.version ?? '' }, 1]],
  };
  const families = [
    info,
    ...(vitals === undefined ? [] : processFamilies(vitals)),
    ...farmFamilies(live.present()),
  ];
  return `${families.map(familyText).join('')}# EOF\n`;
}
