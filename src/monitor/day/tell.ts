import { toInstant } from '../../../shared/base/ids.js';
import type { Command } from '../../../shared/wire/command.js';
import { nothingToUndo, restsOnIt, undoneSaid } from '../../watering/commands/undo-words.js';
import type { ToldAnswer } from '../../watering/sentences/said/told.js';
import type { Fact } from '../ports/facts.js';
import type { Played } from './chunk.js';
import { type CoreParts, type Denial, LATE_MS } from './core/core-parts.js';
import type { DayInput } from './core/day-input.js';
import type { Day, Rewrite } from './day.js';
import { NotCarriedOut } from './day.js';
import { retell } from './retell.js';
import { UNDO_WITHIN_MS, undoRule } from './undo-rule.js';

/** Looks, weights and "ready" are of the tray as it was at their time: told late, they are played there. */
const observations: ReadonlySet<Command['do']> = new Set(['looked', 'weighed', 'ready-for-water']);

type Told = Extract<DayInput, { kind: 'command' }>;
type Undo = Extract<Command, { do: 'undo' }>;

/**
 * Tells the day a command. It is played now; where it says something of the past, the past is played again with it, and an undo is
 * the past played without. Throws NotCarriedOut, and then nothing has happened.
 */
export function tellDay(day: Day, parts: CoreParts, command: Command, ref: string): ToldAnswer {
  const teller = new DayTeller(day, parts);
  return command.do === 'undo' ? teller.undo(command, ref) : teller.tell(command, ref);
}

class DayTeller {
  constructor(
    private readonly day: Day,
    private readonly parts: CoreParts,
  ) {}

  tell(command: Command, ref: string): ToldAnswer {
    const { day } = this;
    const input: Told = { kind: 'command', atMs: day.core.nowMs, command, ref };
    const inPlace = this.inPlace(input);
    if (inPlace?.answer.ok === true) {
      this.commit(inPlace.rewrite, command.by);
      return this.answer(ref, input.atMs, inPlace.answer);
    }
    const answer = day.take(input);
    if (answer === undefined) throw new TypeError('a command is always answered');
    // refused then and now, it waits where it belongs: once what stood in its way is taken back, it counts there
    if (!answer.ok && inPlace !== undefined) day.commit(inPlace.rewrite);
    const denied = day.core.takeDenied();
    if (denied.length > 0) this.deny(denied, input);
    return answer;
  }

  undo({ undo: ref, by }: Undo, undoRef: string): ToldAnswer {
    const { day } = this;
    const { nowMs } = day.core;
    const from = day.past.findIndex(({ inputs }) => inputs.some((input) => isOf(input, ref)));
    const rule = undoRule(day)(ref) ?? { stays: nothingToUndo(ref) };
    if ('stays' in rule) return this.answer(undoRef, nowMs, rule.stays);
    const { command } = rule;
    const rewrite = this.rewrite(from, (inputs) => inputs.filter((input) => !isOf(input, ref)));
    if (rewrite.before.answers.get(ref)?.code !== 'done')
      return this.answer(undoRef, nowMs, nothingToUndo(ref));
    const hanging = nowRefused(rewrite, ref);
    if (hanging !== undefined) return this.answer(undoRef, nowMs, restsOnIt(hanging));
    const trays = traysOf(rewrite.before, ref);
    this.commit(rewrite, by);
    const { awayUntilMs } = day.core.desk.standing();
    const said = undoneSaid(command, trays, { awayUntilMs, nowMs });
    return this.answer(undoRef, nowMs, { ok: true, code: 'done', said });
  }

  /** A look told late, as if played at its own time; undefined where it is not late, or nobody remembers that time. */
  private inPlace(input: Told): { readonly rewrite: Rewrite; readonly answer: ToldAnswer } | undefined {
    const { command, ref } = input;
    if (!observations.has(command.do) || !('at' in command) || command.at === undefined) return undefined;
    const atMs = Date.parse(command.at);
    const lateMs = input.atMs - atMs;
    const place = this.day.placeOf(atMs);
    const isKnown = this.day.past.some(({ inputs }) => inputs.some((other) => isCommand(other, ref)));
    if (lateMs <= LATE_MS || lateMs > UNDO_WITHIN_MS || place === undefined || isKnown) return undefined;
    const rewrite = this.insert([{ ...place, input: { ...input, atMs } }]);
    const answer = rewrite.after.answers.get(ref);
    return answer && { rewrite, answer };
  }

  /** What was carried as perhaps watered was not: the round is settled anew, with that known. */
  private deny(denied: readonly Denial[], { ref, command }: Told): void {
    const places = denied.flatMap(({ trayId, atMs }) => {
      const place = this.day.placeOf(atMs);
      const input: DayInput = { kind: 'left-out', atMs, trayIds: [trayId], ref };
      return place === undefined ? [] : [{ ...place, input }];
    });
    if (places.length === 0) return;
    try {
      this.commit(this.insert(places), command.by);
    } catch (cause) {
      const from = this.day.past.length - 1;
      this.day.commit(this.day.rewrite(from, (inputs) => inputs.filter((input) => !isOf(input, ref))));
      throw cause;
    }
  }

  private insert(
    places: readonly { readonly chunk: number; readonly at: number; readonly input: DayInput }[],
  ): Rewrite {
    const from = Math.min(...places.map(({ chunk }) => chunk));
    const { past } = this.day;
    const added = new Map<readonly DayInput[], typeof places>();
    for (const place of places) {
      const inputs = past[place.chunk]?.inputs ?? [];
      added.set(inputs, [...(added.get(inputs) ?? []), place]);
    }
    return this.rewrite(from, (inputs) => {
      const changed = [...inputs];
      // from the last place to the first, so that places stay true
      for (const { at, input } of [...(added.get(inputs) ?? [])].sort((a, b) => b.at - a.at))
        changed.splice(at, 0, input);
      return changed;
    });
  }

  private rewrite(from: number, change: (inputs: readonly DayInput[]) => readonly DayInput[]): Rewrite {
    try {
      return this.day.rewrite(from, change);
    } catch (cause) {
      throw new NotCarriedOut('the day can not be played that way', { cause });
    }
  }

  private commit(rewrite: Rewrite, by: string | undefined): void {
    const facts = retell(rewrite, this.parts, by);
    this.day.commit(rewrite);
    this.day.say(facts);
  }

  private answer(ref: string, nowMs: number, given: Pick<ToldAnswer, 'ok' | 'code' | 'said'>): ToldAnswer {
    const { ok, code, said } = given;
    const answer: ToldAnswer = { ref, at: toInstant(nowMs), ok, code, said };
    this.day.say([{ kind: 'answer', answer }]);
    return answer;
  }
}

function isCommand(input: DayInput, ref: string): boolean {
  return input.kind === 'command' && input.ref === ref;
}

/** The command of this ref, or what it made of the past. */
function isOf(input: DayInput, ref: string): boolean {
  return 'ref' in input && input.ref === ref;
}

/** The first command that was done and would not be without the one that is to be undone. */
function nowRefused({ before, after }: Rewrite, undone: string): Told['command'] | undefined {
  for (const [ref, { ok }] of before.answers)
    if (ok && ref !== undone && after.answers.get(ref)?.ok !== true) {
      const told = after.chunks.flatMap(({ inputs }) => inputs).find((input) => isCommand(input, ref));
      return told?.kind === 'command' ? told.command : undefined;
    }
  return undefined;
}

/** The trays that a command has told something of. */
function traysOf({ factsOf }: Played, ref: string): readonly string[] {
  const facts: readonly Fact[] = factsOf.get(ref) ?? [];
  return [...new Set(facts.flatMap((fact) => (fact.kind === 'tray-event' ? [fact.event.tray] : [])))];
}
