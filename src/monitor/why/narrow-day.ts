import { toInstant } from '../../../shared/base/ids.js';
import type { Command } from '../../../shared/wire/command.js';
import type { FarmModel } from '../../drying/model/farm-model.js';
import type { Chunk } from '../day/chunk.js';
import type { CoreParts, CoreState } from '../day/core/core-parts.js';
import type { DayInput } from '../day/core/day-input.js';
import { FarmCore } from '../day/core/farm-core.js';

/** A stretch of the day, and what the whole farm had learned at its end; undefined where nobody can say. */
interface Stretch {
  readonly inputs: readonly DayInput[];
  readonly endsMs: number;
  readonly lessons: FarmModel | undefined;
}

/** The farm's day as far as it concerns one tray: where the farm stood, and what has reached it since, of that tray alone. */
export interface NarrowDay {
  readonly trayId: string;
  readonly state: CoreState;
  readonly stretches: readonly Stretch[];
  readonly untilMs: number;
}

/**
 * Cuts a day down to one tray, up to `untilMs`; undefined when that lies before the day. Playing it costs a farm of one tray.
 * @param elsewhere probes that sit on other trays
 * @param present the farm's model where the day ends now
 */
export function narrowDay(
  parts: CoreParts,
  past: readonly Chunk[],
  trayId: string,
  elsewhere: ReadonlySet<string>,
  untilMs: number,
  present: FarmModel | undefined,
): NarrowDay | undefined {
  const chunks = past.filter(({ state }) => state.nowMs <= untilMs);
  const [first] = chunks;
  if (first === undefined) return undefined;
  const stretches = chunks.map(({ inputs }, place): Stretch => {
    const next = chunks[place + 1];
    return {
      inputs: inputs
        .filter(({ atMs }) => atMs <= untilMs)
        .flatMap((input) => narrowInput(input, trayId, elsewhere)),
      endsMs: next?.state.nowMs ?? untilMs,
      lessons: next === undefined ? present : parts.createModel(next.state.model),
    };
  });
  return { trayId, state: first.state, stretches, untilMs };
}

/** All that reached the tray, in order. */
export function inputsOf({ stretches }: NarrowDay): readonly DayInput[] {
  return stretches.flatMap(({ inputs }) => inputs);
}

function narrowInput(input: DayInput, trayId: string, elsewhere: ReadonlySet<string>): readonly DayInput[] {
  switch (input.kind) {
    case 'reading':
      return elsewhere.has(input.probeId) ? [] : [input];
    case 'tray-event': {
      const { event } = input;
      const isOurs = event.tray === trayId || (event.event === 'potted-on' && event.toTray === trayId);
      return isOurs ? [input] : [];
    }
    case 'left-out':
      return input.trayIds.includes(trayId) ? [{ ...input, trayIds: [trayId] }] : [];
    case 'command': {
      const command = narrowCommand(input.command, trayId);
      return command === undefined ? [] : [{ ...input, command }];
    }
    case 'health':
    case 'due':
    case 'passed-over':
    case 'clock':
    case 'start':
      return [input];
  }
}

/** What a command says of one tray; undefined when it is of others only. */
function narrowCommand(command: Command, trayId: string): Command | undefined {
  if (command.do === 'round-done')
    return { ...command, except: command.except.filter((one) => one === trayId) };
  if (command.do === 'watered' && command.trays !== undefined) {
    const { trays, ...rest } = command;
    return trays.includes(trayId) ? { ...rest, tray: trayId } : undefined;
  }
  if (command.do === 'pot-on' && command.toTray === trayId) return command;
  return 'tray' in command && command.tray !== undefined && command.tray !== trayId ? undefined : command;
}

/** Trays that are needed for the tray to be there: what it was potted on from. */
function sourcesOf(day: NarrowDay): ReadonlySet<string> {
  const { trayId } = day;
  return new Set(
    inputsOf(day).flatMap((input) => {
      if (input.kind === 'command' && input.command.do === 'pot-on' && input.command.toTray === trayId)
        return [input.command.tray];
      if (input.kind === 'tray-event' && input.event.event === 'potted-on') return [input.event.tray];
      return [];
    }),
  );
}

/** What playing it led to: the farm, run to the end, and which commands were done. */
export interface PlayedNarrow {
  readonly core: FarmCore;
  readonly doneRefs: ReadonlySet<string>;
}

/**
 * Plays a tray's day without what `leaveOut` names. At the end of each stretch what trays share is what the whole farm had learned of
 * it, unless the farm is left out too. Throws what the farm throws.
 */
export function playNarrow(
  parts: CoreParts,
  day: NarrowDay,
  leaveOut: (input: DayInput) => boolean = () => false,
  withFarm = true,
): PlayedNarrow {
  const core = new FarmCore(parts, day.state);
  const sources = sourcesOf(day);
  const { nowMs } = day.state;
  for (const { id } of core.desk.trays()) {
    if (id === day.trayId || sources.has(id)) continue;
    core.play({ kind: 'tray-event', atMs: nowMs, event: { at: toInstant(nowMs), tray: id, event: 'ended' } });
  }
  const doneRefs = new Set<string>();
  for (const { inputs, endsMs, lessons } of day.stretches) {
    for (const input of inputs) {
      if (leaveOut(input)) continue;
      const answer = core.play(input);
      if (answer?.ok === true) doneRefs.add(answer.ref);
    }
    core.play({ kind: 'clock', atMs: endsMs });
    // Looking runs the model up to here.
    core.view();
    core.takeFacts();
    if (withFarm && lessons !== undefined) core.model.followLessons(lessons);
  }
  return { core, doneRefs };
}
