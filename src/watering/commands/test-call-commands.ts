import { toInstant } from '../../../shared/base/ids.js';
import { MQTT_WAY } from '../../../shared/base/test-call.js';
import { MS_PER_DAY } from '../../../shared/base/time-units.js';
import type { Command } from '../../../shared/wire/command.js';
import type { Desk } from '../desk/desk.js';
import type { DeskEffect } from '../desk/watering-desk.js';
import { type CommandOutcome, done, refused } from './outcome.js';

/** How long somebody may take to answer a test call, on the farm's clock. */
const ANSWER_MS = MS_PER_DAY;

function waysOf(desk: Desk): readonly string[] {
  return [MQTT_WAY, ...(desk.options.messaging?.webhooks ?? []).map(({ id }) => id)];
}

/** True while an alarm waits to be seen: then a bare "seen" is about that, and no answer to a test. */
function aCallWaits(desk: Desk): boolean {
  return [...desk.state.alarms.values()].some(({ state }) => state === 'unacknowledged');
}

/** The test call that waits for an answer, with the ways by which nobody has said that it came. */
export function openTest(
  desk: Desk,
): { readonly atMs: number; readonly ways: readonly string[] } | undefined {
  const { test } = desk.state;
  if (test === undefined) return undefined;
  return { atMs: test.atMs, ways: waysOf(desk).filter((way) => !test.seenWays.includes(way)) };
}

/** A test call that nobody has answered in time waits no longer. */
export function forgetOldTest(desk: Desk, nowMs: number): void {
  const { test } = desk.state;
  if (test !== undefined && nowMs - test.atMs > ANSWER_MS) desk.state.test = undefined;
}

/** A call by every way that is only a test: nothing enters the alarm book. */
export function testCallCommand(
  desk: Desk,
  command: Extract<Command, { do: 'test-call' }>,
  test: string,
  nowMs: number,
): CommandOutcome {
  const ways = waysOf(desk);
  const bareSeen = !aCallWaits(desk);
  desk.state.test = { test, atMs: nowMs, seenWays: [] };
  return done(
    ['testCallGoes', ways],
    [
      {
        kind: 'test-call',
        at: toInstant(nowMs),
        test,
        ...(command.by === undefined ? {} : { by: command.by }),
        ways,
        bareSeen,
      },
    ],
  );
}

/**
 * The test call that is out has come. Undefined when none is out, or this way was answered before.
 * @param way undefined: somebody has seen it and does not say where
 */
export function seeTest(
  desk: Desk,
  way: string | undefined,
  by: string | undefined,
  nowMs: number,
): DeskEffect | undefined {
  const { test: open } = desk.state;
  if (open === undefined || nowMs - open.atMs > ANSWER_MS) return undefined;
  if (way !== undefined && open.seenWays.includes(way)) return undefined;
  const seenWays = way === undefined ? waysOf(desk) : [...open.seenWays, way];
  const isOver = waysOf(desk).every((one) => seenWays.includes(one));
  desk.state.test = isOver ? undefined : { ...open, seenWays };
  return {
    kind: 'test-seen',
    at: toInstant(nowMs),
    test: open.test,
    ...(way === undefined ? {} : { way }),
    ...(by === undefined ? {} : { by }),
  };
}

/** "It came": the answer to a test call, by way. */
export function testSeenCommand(
  desk: Desk,
  command: Extract<Command, { do: 'test-seen' }>,
  nowMs: number,
): CommandOutcome {
  const ways = waysOf(desk);
  const way = command.way ?? (ways.length === 1 ? ways[0] : undefined);
  if (way !== undefined && !ways.includes(way)) return refused('unknown-way', ['noSuchWay', way, ways]);
  const seen = seeTest(desk, way, command.by, nowMs);
  if (seen === undefined) return refused('no-test', ['noTest']);
  return done(['testSeen', way], [seen]);
}
