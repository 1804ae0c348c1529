import { toInstant } from '../../../shared/base/ids.js';
import type { TrayEvent } from '../../../shared/facts/tray-life.js';
import type { Command } from '../../../shared/wire/command.js';
import { trayVolumeMl } from '../../drying/physics/tray-geometry.js';
import { type Desk, standingTray, standingTrays } from '../desk/desk.js';
import { memoryOf } from '../desk/desk-state.js';
import type { Pour } from '../desk/pour-ledger.js';
import type { RegisteredTray } from '../desk/tray-register.js';
import type { DeskEffect } from '../desk/watering-desk.js';
import type { Said } from '../sentences/said/said.js';
import { applyTrayEvent } from '../trays/apply-event.js';
import { ROUND_TOLD_WITHIN_MS } from '../trays/asked-for-less.js';
import { noSuchBench, noSuchTray } from '../trays/no-such.js';
import { SAME_SIZE_MM } from '../trays/usual-block-count.js';
import { type CommandOutcome, type Done, done, type Refused, refused } from './outcome.js';

/** A tray holds its blocks' own volume and a film; a pour that "stayed" beyond twice that is a slip of the finger. */
const MOST_POUR_FACTOR = 2;

type Watered = Extract<Command, { do: 'watered' }>;

/** Why a tray that stands is not the one that bench and block size mean. */
function misfit(tray: RegisteredTray, { bench, blockSideMm }: Watered): Refused {
  const standsElsewhere = bench !== undefined && bench !== tray.benchId;
  const isOtherSize = blockSideMm !== undefined && Math.abs(tray.blockSideMm - blockSideMm) > SAME_SIZE_MM;
  return refused('no-such-trays', [
    'misfit',
    {
      tray: tray.id,
      ...(standsElsewhere ? { bench: { stands: tray.benchId, told: bench } } : {}),
      ...(isOtherSize ? { sideMm: { stands: tray.blockSideMm, told: blockSideMm } } : {}),
    },
  ]);
}

function wateredTrays(desk: Desk, command: Watered): readonly RegisteredTray[] | Refused {
  const { tray, trays: several, bench, blockSideMm } = command;
  if (tray === undefined && several === undefined && bench === undefined && blockSideMm === undefined)
    return refused('which-trays', ['whichTrays']);
  const unknown = [...(tray === undefined ? [] : [tray]), ...(several ?? [])].find(
    (id) => standingTray(desk, id) === undefined,
  );
  if (unknown !== undefined) return refused('unknown-tray', noSuchTray(desk, unknown));
  if (bench !== undefined && !desk.options.benches.some(({ id }) => id === bench))
    return refused('unknown-bench', noSuchBench(desk, bench));
  const trays = standingTrays(desk).filter(
    (one) =>
      (tray === undefined || one.id === tray) &&
      (several === undefined || several.includes(one.id)) &&
      (bench === undefined || one.benchId === bench) &&
      (blockSideMm === undefined || Math.abs(one.blockSideMm - blockSideMm) <= SAME_SIZE_MM),
  );
  if (trays.length > 0) return trays;
  const named = tray === undefined ? undefined : standingTray(desk, tray);
  if (named !== undefined) return misfit(named, command);
  if (blockSideMm === undefined) return refused('no-such-trays', ['noTrayStands', bench]);
  const sizes = [...new Set(standingTrays(desk).map((one) => one.blockSideMm))].sort((a, b) => a - b);
  return refused('no-such-trays', ['noTrayOfSize', blockSideMm, bench, sizes]);
}

function tooMuch(trays: readonly RegisteredTray[], ml: number | undefined): Refused | undefined {
  const small =
    ml === undefined ? undefined : trays.find((tray) => ml > MOST_POUR_FACTOR * trayVolumeMl(tray));
  return small === undefined || ml === undefined
    ? undefined
    : refused('dose-too-large', ['doseTooLarge', ml, small.id, trayVolumeMl(small)]);
}

function tell(
  desk: Desk,
  trays: readonly RegisteredTray[],
  told: {
    readonly atMs: number;
    readonly ml?: number | undefined;
    readonly by?: string | undefined;
    /** A tray told to be filled since then was filled by this same watering: "round done" sums up. */
    readonly since?: number | undefined;
    readonly leftOut?: readonly string[];
  },
  nowMs: number,
): Done {
  const effects: DeskEffect[] = [];
  const events: TrayEvent[] = [];
  const before: string[] = [];
  const again: string[] = [];
  const { since } = told;
  const isSummedUp = ({ told: pour }: Pour): boolean =>
    since !== undefined && pour !== undefined && pour.ml === undefined && pour.atMs >= since;
  for (const tray of trays) {
    if (memoryOf(desk.state, tray.id).pours.some(isSummedUp)) {
      before.push(tray.id);
      continue;
    }
    const event: TrayEvent = {
      event: 'watered',
      at: toInstant(told.atMs),
      tray: tray.id,
      ...(told.by === undefined ? {} : { by: told.by }),
      ...(told.ml === undefined ? {} : { ml: told.ml }),
    };
    const applied = applyTrayEvent(desk, event, nowMs);
    effects.push(...applied.effects);
    events.push(event);
    if (applied.pour === 'further-pour') again.push(tray.id);
  }
  const said: Said = [
    'watered',
    {
      atMs: told.atMs,
      nowMs,
      trays: events.map(({ tray }) => tray),
      ml: told.ml,
      before,
      again,
      leftOut: told.leftOut ?? [],
    },
  ];
  return events.length === 0 ? { ok: true, code: 'told-already', said, effects } : done(said, effects);
}

/** "Watered": one tray, a bench, a block size, or what fits all that is given. */
export function wateredCommand(desk: Desk, command: Watered, atMs: number, nowMs: number): CommandOutcome {
  const trays = wateredTrays(desk, command);
  if ('ok' in trays) return trays;
  return tooMuch(trays, command.ml) ?? tell(desk, trays, { atMs, ml: command.ml, by: command.by }, nowMs);
}

/** Somebody says that these trays were left out of a round, at this instant. */
export function leaveOut(desk: Desk, trayIds: readonly string[], atMs: number): void {
  for (const trayId of trayIds) {
    const memory = memoryOf(desk.state, trayId);
    memory.leftOutAtMs = Math.max(memory.leftOutAtMs ?? atMs, atMs);
    memory.perhaps = undefined;
  }
}

/** "Round done, except ...": every tray that the last notice listed, but for those named. */
export function roundDoneCommand(
  desk: Desk,
  command: Extract<Command, { do: 'round-done' }>,
  atMs: number,
  nowMs: number,
): CommandOutcome {
  const round = desk.state.rounds.findLast(
    ({ noticeAtMs, roundMs }) => noticeAtMs <= atMs && atMs <= roundMs + ROUND_TOLD_WITHIN_MS,
  );
  if (round === undefined) return refused('no-round', ['noRound']);
  const stray = command.except.filter((trayId) => !round.due.includes(trayId));
  if (stray.length > 0)
    return refused('not-in-notice', ['notInNotice', round.roundMs, nowMs, stray, round.due]);
  const trays = round.due
    .filter((trayId) => !command.except.includes(trayId))
    .flatMap((trayId) => standingTray(desk, trayId) ?? []);
  const denied = command.except.flatMap((trayId): DeskEffect[] => {
    const { perhaps } = memoryOf(desk.state, trayId);
    leaveOut(desk, [trayId], atMs);
    return perhaps?.atMs === round.roundMs ? [{ kind: 'not-watered', trayId, atMs: perhaps.atMs }] : [];
  });
  const leftOut = command.except;
  if (trays.length === 0) return done(['roundDoneDry', round.roundMs, nowMs, leftOut], denied);
  const told = tell(desk, trays, { atMs, by: command.by, since: round.noticeAtMs, leftOut }, nowMs);
  return { ...told, effects: [...denied, ...told.effects] };
}
