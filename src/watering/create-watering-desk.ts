import { transitionOf } from './alarms/alarm-book.js';
import { retellAlarms } from './alarms/retell-alarms.js';
import { callAbout } from './calls/make-calls.js';
import { obey } from './commands/obey.js';
import { openTest } from './commands/test-call-commands.js';
import { leaveOut } from './commands/watering-commands.js';
import { decide } from './decide.js';
import { type Desk, standingTrays } from './desk/desk.js';
import type { DeskOptions } from './desk/desk-options.js';
import { restoreState, startingState, takeSnapshot } from './desk/desk-state.js';
import type { WateringDesk } from './desk/watering-desk.js';
import { writeNotice } from './rounds/write-notice.js';
import { createSpeech } from './sentences/speech.js';
import type { FarmWords } from './sentences/words/farm-words.js';
import { applyLogRow } from './trays/apply-event.js';
import { noticeWatering } from './trays/notice-watering.js';

/**
 * The watering desk of one farm. `options`: the farm's configuration. `snapshot`: what `snapshot()` gave before a restart; throws
 * RangeError when it can't be read. `words`: the farm's, where they are made already.
 */
export function createWateringDesk(
  options: DeskOptions,
  snapshot?: unknown,
  words: FarmWords = createSpeech(options).words,
): WateringDesk {
  const desk: Desk = {
    options,
    words,
    state: snapshot === undefined ? startingState(options) : restoreState(snapshot),
  };
  return {
    trays: () => standingTrays(desk),
    probeTrays: () => desk.state.history.now.probeTray,
    command: (command, ref, view) => obey(desk, command, ref, view),
    trayEvent: (event, view) => applyLogRow(desk, event, view.nowMs),
    noticed: (event, view) => noticeWatering(desk, event, view),
    decide: (view) => decide(desk, view),
    roundNotice: (roundMs, view) => writeNotice(desk, roundMs, view),
    leaveOut: (trayIds, roundMs) => leaveOut(desk, trayIds, roundMs),
    retellAlarms: (before, nowMs, by) => retellAlarms(desk, before, nowMs, by),
    callAbout: (subjects, view) => callAbout(desk, subjects, view),
    standing: () => ({
      alarms: [...desk.state.alarms.values()]
        .filter((record) => record.state !== 'normal')
        .map((record) => transitionOf(desk, record, record.stateSinceMs)),
      awayUntilMs: desk.state.awayUntilMs,
      notice: desk.state.notice,
      test: openTest(desk),
    }),
    snapshot: () => takeSnapshot(desk.state),
  };
}
