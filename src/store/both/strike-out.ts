import type { TrayEvent } from '../../../shared/facts/tray-life.js';
import type { Fact } from '../../monitor/ports/facts.js';
import type { ToldNote } from '../../watering/sentences/said/told.js';

/** Whether an undone event is this one: same tray, same event, same instant, same details. */
export function isSameEvent(a: TrayEvent, b: TrayEvent): boolean {
  return canonical(a) === canonical(b);
}

/** What an undo strikes out. */
export function canBeUndone(fact: Fact): fact is Extract<Fact, { kind: 'tray-event' | 'watering' | 'note' }> {
  return fact.kind === 'tray-event' || fact.kind === 'watering' || fact.kind === 'note';
}

/** Whether an undone note is this one. */
export function isSameNote(fact: Fact, note: ToldNote): boolean {
  if (fact.kind !== 'note') return false;
  const { kind: _, ref: __, undone: ___, ...kept } = fact;
  return canonical(kept) === canonical(note);
}

function canonical(told: object): string {
  const entries = Object.entries(told).filter(([, value]) => value !== undefined);
  return JSON.stringify(entries.sort(([a], [b]) => (a < b ? -1 : 1)));
}

/** Whether an undone `watered` event takes this logged watering with it. */
export function isWateringOf(fact: Fact, event: TrayEvent): boolean {
  return (
    fact.kind === 'watering' &&
    event.event === 'watered' &&
    fact.watering.source === 'logged' &&
    fact.watering.tray === event.tray &&
    Date.parse(fact.watering.at) === Date.parse(event.at)
  );
}

/**
 * Marks what later undo facts struck out. An undo strikes the newest standing event like it, and the watering that was
 * told by it. `facts` are in the order in which they were kept; the result has the same order and length.
 */
export function strikeOut(facts: readonly Fact[]): readonly Fact[] {
  const struck: Fact[] = [...facts];
  facts.forEach((undo, position) => {
    if (undo.kind === 'note-undone') strikeNewest(struck, position, (fact) => isSameNote(fact, undo.note));
    if (undo.kind !== 'tray-event-undone') return;
    strikeNewest(
      struck,
      position,
      (fact) => fact.kind === 'tray-event' && isSameEvent(fact.event, undo.event),
    );
    strikeNewest(struck, position, (fact) => isWateringOf(fact, undo.event));
  });
  return struck;
}

function strikeNewest(facts: Fact[], before: number, matches: (fact: Fact) => boolean): void {
  for (let index = before - 1; index >= 0; index--) {
    const fact = facts[index];
    if (fact === undefined || !matches(fact)) continue;
    if (!canBeUndone(fact)) continue;
    if (fact.undone) continue;
    facts[index] = { ...fact, undone: true };
    return;
  }
}
