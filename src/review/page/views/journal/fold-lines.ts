import { MS_PER_MIN } from '../../../../../shared/base/time-units.js';
import type { JournalEntry } from '../../../../../shared/page/page-journal.js';
import type { PagePresent } from '../../../../../shared/page/page-present.js';

type AlarmEntry = Extract<JournalEntry, { kind: 'alarm' }>;
type WateringEntry = Extract<JournalEntry, { kind: 'watering' }>;

/** What the journal shows as one line: a thing by itself, the pours of one walk along the benches, or the life of one call. */
export type JournalLine =
  | { readonly kind: 'one'; readonly at: string; readonly entry: JournalEntry }
  | { readonly kind: 'pours'; readonly at: string; readonly entries: readonly WateringEntry[] }
  | {
      readonly kind: 'call';
      readonly at: string;
      readonly steps: readonly JournalEntry[];
      readonly alarms: readonly AlarmEntry[];
    };

/** Pours no further apart than this belong to one walk (judgement: a tray that soaks between two pours). */
const ONE_WALK_MS = 45 * MS_PER_MIN;

const time = ({ at }: { readonly at: string }): number => Date.parse(at);
const alarmKey = ({ transition: { kind, tray, bench, source } }: AlarmEntry): string =>
  `${kind} ${tray ?? bench ?? source ?? ''}`;

/** The journal folded into lines, newest first; nothing is left out, each line opens to what it holds. */
export function foldLines(entries: readonly JournalEntry[]): JournalLine[] {
  // A call to people stands behind the alarms of its moment.
  const oldestFirst = [...entries].sort(
    (a, b) => time(a) - time(b) || Number(a.kind === 'call') - Number(b.kind === 'call'),
  );
  const lines: JournalLine[] = [];
  const lives = new Map<string, { steps: JournalEntry[]; alarms: AlarmEntry[] }>();
  let walk: WateringEntry[] = [];
  const endLife = (key: string): void => {
    const life = lives.get(key);
    lives.delete(key);
    const last = life?.steps.at(-1);
    if (life !== undefined && last !== undefined) lines.push({ kind: 'call', at: last.at, ...life });
  };
  const endWalk = (): void => {
    const [first] = walk;
    const last = walk.at(-1);
    if (first !== undefined && last !== undefined)
      lines.push(
        walk.length === 1
          ? { kind: 'one', at: first.at, entry: first }
          : { kind: 'pours', at: last.at, entries: walk },
      );
    walk = [];
  };
  for (const entry of oldestFirst) {
    if (entry.kind === 'alarm') {
      const key = alarmKey(entry);
      const life = lives.get(key) ?? { steps: [], alarms: [] };
      life.steps.push(entry);
      life.alarms.push(entry);
      lives.set(key, life);
      if (entry.transition.state === 'normal') endLife(key);
    } else if (entry.kind === 'watering' && entry.undone !== true) {
      const last = walk.at(-1);
      if (last !== undefined && time(entry) - time(last) > ONE_WALK_MS) endWalk();
      walk.push(entry);
    } else if (entry.kind === 'call' && joinLives(entry, lives)) continue;
    else lines.push({ kind: 'one', at: entry.at, entry });
  }
  endWalk();
  for (const key of [...lives.keys()]) endLife(key);
  return lines.sort((a, b) => time(b) - time(a));
}

/** A call to people is a step in the life of each alarm that it speaks of. */
function joinLives(
  entry: Extract<JournalEntry, { kind: 'call' }>,
  lives: ReadonlyMap<string, { steps: JournalEntry[] }>,
): boolean {
  const { kind, trays, bench, source, about } = entry.call;
  const spoken = [
    ...[...trays, bench, source].map((of) => `${kind} ${of ?? ''}`),
    ...(about ?? []).map((one) => `${one.kind} ${one.of}`),
  ];
  const found = [...new Set(spoken)].flatMap((key) => lives.get(key) ?? []);
  for (const { steps } of found) steps.push(entry);
  return found.length > 0;
}

/** What the journal is searched by. */
export interface JournalSearch {
  readonly words: string;
  readonly tray: string | undefined;
  readonly bench: string | undefined;
}

/** The trays that a line of the journal speaks of. */
export function traysOf(entry: JournalEntry): readonly (string | undefined)[] {
  switch (entry.kind) {
    case 'watering':
      return [entry.watering.tray];
    case 'tray-event':
    case 'tray-event-undone':
      return [entry.event.tray, 'toTray' in entry.event ? entry.event.toTray : undefined];
    case 'alarm':
      return [entry.transition.tray];
    case 'call':
      return entry.call.trays;
    case 'round-notice':
      return entry.notice.due.map(({ tray }) => tray);
    case 'note':
      return [entry.tray];
    case 'note-undone':
      return [entry.note.tray];
    case 'ask':
      return entry.trays;
    case 'probe-drift':
    case 'status':
      return [];
  }
}

function benchOf(entry: JournalEntry): string | undefined {
  if (entry.kind === 'alarm') return entry.transition.bench;
  return entry.kind === 'call' ? entry.call.bench : undefined;
}

/** The entries that a search finds: every word of it in what `tell` says of the entry, whatever the case. */
export function searched(
  entries: readonly JournalEntry[],
  { words, tray, bench }: JournalSearch,
  present: PagePresent,
  tell: (entry: JournalEntry) => string,
): JournalEntry[] {
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean);
  const onBench = new Set(present.trays.filter((one) => one.bench === bench).map(({ id }) => id));
  return entries.filter((entry) => {
    const trays = traysOf(entry);
    if (tray !== undefined && !trays.includes(tray)) return false;
    if (
      bench !== undefined &&
      benchOf(entry) !== bench &&
      !trays.some((id) => id !== undefined && onBench.has(id))
    )
      return false;
    if (wanted.length === 0) return true;
    const told = tell(entry).toLowerCase();
    return wanted.every((word) => told.includes(word));
  });
}
