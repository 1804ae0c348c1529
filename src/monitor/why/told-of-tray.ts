import { toInstant } from '../../../shared/base/ids.js';
import type { ProbeConfig } from '../../../shared/config/kit/probes.js';
import type { TrayEvent } from '../../../shared/facts/tray-life.js';
import type { WhyEvidence } from '../../../shared/page/page-why.js';
import type { Command } from '../../../shared/wire/command.js';
import type { DayInput } from '../day/core/day-input.js';
import { inputsOf, type NarrowDay } from './narrow-day.js';

/** A piece of evidence that can be left out of a day. */
export interface Removable {
  readonly about: Omit<WhyEvidence, 'without'>;
  readonly isOf: (input: DayInput) => boolean;
}

/** So many things told of a tray in a day are weighed, the newest; each costs a day played again (judgement). */
const MOST_TOLD = 6;

const KIND_OF: Partial<Record<Command['do'] | TrayEvent['event'], WhyEvidence['kind']>> = {
  watered: 'pour',
  'round-done': 'pour',
  looked: 'look',
  weighed: 'weight',
  'ready-for-water': 'ready',
  sown: 'life',
  germinated: 'life',
  cover: 'life',
  covered: 'life',
  uncovered: 'life',
  move: 'life',
  moved: 'life',
};

/** What in a tray's day can be left out: each thing that was told and done, and the readings of each probe. */
export function removables(
  day: NarrowDay,
  doneRefs: ReadonlySet<string>,
  probes: readonly ProbeConfig[],
): readonly Removable[] {
  const told = inputsOf(day)
    .flatMap((input) => toldOnce(input, doneRefs))
    .slice(-MOST_TOLD);
  return [...told, ...readingsOf(day, probes)];
}

function toldOnce(input: DayInput, doneRefs: ReadonlySet<string>): readonly Removable[] {
  const isOf = (other: DayInput): boolean =>
    other === input || (input.kind === 'command' && other.kind === 'left-out' && other.ref === input.ref);
  if (input.kind === 'tray-event') {
    const { event } = input;
    const kind = KIND_OF[event.event];
    if (kind === undefined) return [];
    const ml = event.event === 'watered' ? event.ml : undefined;
    return [{ about: { kind, at: event.at, ...(ml === undefined ? {} : { ml }) }, isOf }];
  }
  if (input.kind !== 'command' || !doneRefs.has(input.ref)) return [];
  const { command } = input;
  const kind = KIND_OF[command.do];
  if (kind === undefined) return [];
  const at = ('at' in command ? command.at : undefined) ?? toInstant(input.atMs);
  return [
    {
      about: {
        kind,
        at,
        ...(command.by === undefined ? {} : { source: command.by }),
        ...(command.do === 'watered' && command.ml !== undefined ? { ml: command.ml } : {}),
        ...(command.do === 'looked' ? { level: command.level } : {}),
      },
      isOf,
    },
  ];
}

/** The readings of the tray's own probes each, those of the bench's air together, and its light. */
function readingsOf(day: NarrowDay, probes: readonly ProbeConfig[]): readonly Removable[] {
  const counts = new Map<string, number>();
  for (const input of inputsOf(day))
    if (input.kind === 'reading') counts.set(input.probeId, (counts.get(input.probeId) ?? 0) + 1);
  const heard = probes.filter(({ id }) => counts.has(id));
  const group = (kind: 'probe' | 'air' | 'light', ids: readonly string[]): Removable[] => {
    if (ids.length === 0) return [];
    const own = new Set(ids);
    const count = ids.reduce((sum, id) => sum + (counts.get(id) ?? 0), 0);
    return [
      {
        about: { kind, source: ids.join(', '), count },
        isOf: (input) => input.kind === 'reading' && own.has(input.probeId),
      },
    ];
  };
  const ids = (wanted: (probe: ProbeConfig) => boolean): string[] => heard.filter(wanted).map(({ id }) => id);
  return [
    ...ids((probe) => !('bench' in probe)).flatMap((id) => group('probe', [id])),
    ...group(
      'air',
      ids(({ kind }) => kind === 'air-temperature' || kind === 'relative-humidity'),
    ),
    ...group(
      'light',
      ids(({ kind }) => kind === 'light'),
    ),
  ];
}
