import type { PagePatch } from '../../../../shared/page/page-present.js';
import type { FarmPicture } from './farm-picture.js';

const WHOLE_SECTIONS = [
  'riskPct',
  'drive',
  'clockSpeed',
  'canTell',
  'benches',
  'nextRounds',
  'calls',
  'ailments',
] as const;
const OPTIONAL_SECTIONS = ['notice', 'awayUntil', 'testCall'] as const;

interface Named {
  readonly id: string;
}

function changed<T extends Named>(before: readonly T[], after: readonly T[]): T[] {
  const old = new Map(before.map((item) => [item.id, JSON.stringify(item)]));
  return after.filter((item) => old.get(item.id) !== JSON.stringify(item));
}

function gone(before: readonly Named[], after: readonly Named[]): string[] {
  const left = new Set(after.map((item) => item.id));
  return before.map((item) => item.id).filter((id) => !left.has(id));
}

const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);

/** What must be told so that a page that shows `before` shows `after`; undefined when only the clock moved. */
export function patchBetween(before: FarmPicture, after: FarmPicture): PagePatch | undefined {
  const patch: Record<string, unknown> = {};
  for (const name of WHOLE_SECTIONS) if (!same(before[name], after[name])) patch[name] = after[name];
  const absent: string[] = [];
  for (const name of OPTIONAL_SECTIONS) {
    if (same(before[name], after[name])) continue;
    if (after[name] === undefined) absent.push(name);
    else patch[name] = after[name];
  }
  if (absent.length > 0) patch['gone'] = absent;
  for (const [name, goneName] of [
    ['trays', 'goneTrays'],
    ['probes', 'goneProbes'],
  ] as const) {
    const items = changed<Named>(before[name], after[name]);
    const left = gone(before[name], after[name]);
    if (items.length > 0) patch[name] = items;
    if (left.length > 0) patch[goneName] = left;
  }
  return Object.keys(patch).length === 0 ? undefined : ({ at: after.at, ...patch } as PagePatch);
}
