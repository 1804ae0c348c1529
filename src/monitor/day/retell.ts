import { isSamePour } from '../../drying/pours/same-pour.js';
import type { ToldNote } from '../../watering/sentences/said/told.js';
import type { Fact, FactKind } from '../ports/facts.js';
import type { CoreParts } from './core/core-parts.js';
import { FarmCore } from './core/farm-core.js';
import type { Rewrite } from './day.js';

/** The facts of one kind in `facts` that are not in `others`; each counts once. */
function missingFrom(others: readonly Fact[], facts: readonly Fact[], kind: FactKind): readonly Fact[] {
  const left = new Map<string, number>();
  for (const fact of others) {
    if (fact.kind !== kind) continue;
    const text = JSON.stringify(fact);
    left.set(text, (left.get(text) ?? 0) + 1);
  }
  return facts.filter((fact) => {
    if (fact.kind !== kind) return false;
    const text = JSON.stringify(fact);
    const count = left.get(text) ?? 0;
    left.set(text, count - 1);
    return count <= 0;
  });
}

/** Whom calls were about, each with its instant. */
function heard(facts: readonly Fact[]): ReadonlySet<string> {
  return new Set(
    facts.flatMap((fact) =>
      fact.kind === 'call' ? subjectsOf(fact.call).map((of) => `${of} ${fact.call.at}`) : [],
    ),
  );
}

function subjectsOf(call: Extract<Fact, { kind: 'call' }>['call']): readonly string[] {
  const others = (call.about ?? []).map(({ of }) => of);
  const bench = call.kind === 'temperature' && call.bench !== undefined ? [call.bench] : [];
  return [
    ...new Set([...call.trays, ...others, ...bench, ...(call.source === undefined ? [] : [call.source])]),
  ];
}

/** Trays, benches and parts that people would have been called about, and were not. */
function unheard({ before, after }: Rewrite): readonly string[] {
  const known = heard(before.facts);
  return [
    ...new Set(
      after.facts.flatMap((fact) =>
        fact.kind === 'call' ? subjectsOf(fact.call).filter((of) => !known.has(`${of} ${fact.call.at}`)) : [],
      ),
    ),
  ];
}

/** Waterings that are told only now; what a probe has shown was shown before too, and is at most known better. */
function wateringsOf({ before, after }: Rewrite): readonly Fact[] {
  const told = before.facts.flatMap((fact) => (fact.kind === 'watering' ? [fact.watering] : []));
  return missingFrom(before.facts, after.facts, 'watering').flatMap((fact): readonly Fact[] => {
    if (fact.kind !== 'watering') return [];
    const { watering } = fact;
    const alike = told.filter(({ tray, source }) => tray === watering.tray && source === watering.source);
    if (alike.some(({ at }) => at === watering.at))
      return [{ ...fact, watering: { ...watering, amends: true } }];
    const isShown = (at: string): boolean => isSamePour(Date.parse(at), Date.parse(watering.at));
    return watering.source === 'detected' && alike.some(({ at }) => isShown(at)) ? [] : [fact];
  });
}

function noteOf({ kind: _, ref: __, undone: ___, ...note }: Extract<Fact, { kind: 'note' }>): ToldNote {
  return note;
}

/**
 * What people are to be told when the past has become another: events that were none, events that are, how alarms stand now, calls
 * that would have been made, the coming round's notice. What was said of hours that are over stays said.
 */
export function retell(rewrite: Rewrite, parts: CoreParts, by: string | undefined): readonly Fact[] {
  const { before, after } = rewrite;
  const { nowMs } = after.core;
  const undone = missingFrom(after.facts, before.facts, 'tray-event').map((fact) =>
    fact.kind === 'tray-event' ? ({ kind: 'tray-event-undone', event: fact.event } as const) : fact,
  );
  const notes = missingFrom(after.facts, before.facts, 'note').flatMap((fact): readonly Fact[] =>
    fact.kind === 'note' && fact.ref !== undefined ? [{ kind: 'note-undone', note: noteOf(fact) }] : [],
  );
  const wasStanding = before.core.desk.standing();
  const standing = after.core.desk.standing();
  const { notice } = standing;
  const isNews =
    notice !== undefined &&
    Date.parse(notice.round) > nowMs &&
    JSON.stringify(notice) !== JSON.stringify(wasStanding.notice);
  // Looking at a farm makes forecasts, and those leave something behind: a copy is looked at.
  const copy = new FarmCore(parts, after.core.state());
  const subjects = unheard(rewrite);
  return [
    ...undone,
    ...notes,
    ...missingFrom(before.facts, after.facts, 'tray-event'),
    ...wateringsOf(rewrite),
    ...missingFrom(before.facts, after.facts, 'dry-down'),
    ...after.core.desk.retellAlarms(wasStanding.alarms, nowMs, by),
    ...(subjects.length === 0 ? [] : copy.desk.callAbout(subjects, copy.view())),
    ...(isNews ? [{ kind: 'round-notice', notice } as const] : []),
    ...missingFrom(before.facts, after.facts, 'ask'),
  ] as readonly Fact[];
}
