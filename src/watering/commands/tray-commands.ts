import { toInstant } from '../../../shared/base/ids.js';
import { capacityAboveRefill } from '../../../shared/config/trays.js';
import type { TrayEvent } from '../../../shared/facts/tray-life.js';
import type { Command } from '../../../shared/wire/command.js';
import { type Desk, standingTray } from '../desk/desk.js';
import { recordEvent } from '../desk/tray-history.js';
import type { RegisteredTray } from '../desk/tray-register.js';
import type { Said } from '../sentences/said/said.js';
import { applyTrayEvent } from '../trays/apply-event.js';
import { eventRefusal } from '../trays/event-refusals.js';
import { noSuchBench } from '../trays/no-such.js';
import { SAME_SIZE_MM, usualBlockCount } from '../trays/usual-block-count.js';
import { type CommandOutcome, done, type Refused, refused } from './outcome.js';
import { impossibleWeight } from './weight-limits.js';

export type TrayCommand = Extract<
  Command,
  {
    do:
      | 'new-tray'
      | 'sown'
      | 'germinated'
      | 'cover'
      | 'move'
      | 'pot-on'
      | 'looked'
      | 'weighed'
      | 'ready-for-water'
      | 'attach'
      | 'end';
  }
>;

function unknownBench(desk: Desk, benchId: string): Refused | undefined {
  const ids = desk.options.benches.map(({ id }) => id);
  return ids.includes(benchId) ? undefined : refused('unknown-bench', noSuchBench(desk, benchId));
}

function unknownProbe(desk: Desk, probeId: string): Refused | undefined {
  const ids = desk.options.probes
    .filter(({ kind }) => kind === 'block-moisture' || kind === 'tray-weight')
    .map(({ id }) => id);
  if (ids.includes(probeId)) return undefined;
  return refused('unknown-probe', ['noSuchProbe', probeId, ids]);
}

type Base = { readonly at: string; readonly tray: string; readonly by?: string };

function countMissing(blockSideMm: number): Refused {
  return refused('block-count-missing', ['blockCountMissing', blockSideMm]);
}

/** Refused where a tray that stands is described as another one: what is told of it would be lost in silence. */
function standsOtherwise(
  tray: RegisteredTray,
  told: {
    readonly blockSideMm?: number | undefined;
    readonly blockCount?: number | undefined;
    readonly bench?: string | undefined;
  },
): Refused | undefined {
  const { blockSideMm = tray.blockSideMm, blockCount = tray.blockCount, bench = tray.benchId } = told;
  const isSame =
    Math.abs(blockSideMm - tray.blockSideMm) <= SAME_SIZE_MM &&
    blockCount === tray.blockCount &&
    bench === tray.benchId;
  return isSame
    ? undefined
    : refused('tray-exists', ['standsOtherwise', tray.id, tray.blockCount, tray.blockSideMm, tray.benchId]);
}

/** The tray that blocks are potted on into, when the command has to make it. */
function heirOf(
  desk: Desk,
  command: Extract<TrayCommand, { do: 'pot-on' }>,
  base: Base,
): readonly TrayEvent[] | Refused {
  const { do: _do, ref: _ref, at: _at, by: _by, tray, toTray, ...given } = command;
  const source = standingTray(desk, tray);
  const { blockSideMm } = given;
  const heir = standingTray(desk, toTray);
  if (source === undefined) return [];
  if (heir !== undefined) return standsOtherwise(heir, given) ?? [];
  if (blockSideMm === undefined) return refused('block-size-missing', ['blockSizeMissing', toTray]);
  if (blockSideMm <= source.blockSideMm)
    return refused('smaller-block', ['smallerBlockGiven', blockSideMm, tray, source.blockSideMm]);
  const blockCount = given.blockCount ?? usualBlockCount(blockSideMm);
  if (blockCount === undefined) return countMissing(blockSideMm);
  const crop = given.crop ?? source.crop;
  const sownAtMs = source.sownAtMs;
  const germinatedAtMs = source.germinatedAtMs;
  return [
    {
      event: 'new',
      ...base,
      ...given,
      tray: toTray,
      bench: given.bench ?? source.benchId,
      blockSideMm,
      blockCount,
      ...(crop === undefined ? {} : { crop }),
      ...(given.sownAt === undefined && sownAtMs !== undefined ? { sownAt: toInstant(sownAtMs) } : {}),
      ...(given.germinatedAt === undefined && germinatedAtMs !== undefined
        ? { germinatedAt: toInstant(germinatedAtMs) }
        : {}),
    },
  ];
}

/** The events that a command stands for, or why it can't be. */
function eventsOf(desk: Desk, command: TrayCommand, base: Base): readonly TrayEvent[] | Refused {
  switch (command.do) {
    case 'new-tray': {
      const { do: _do, ref: _ref, at: _at, by: _by, tray: _tray, ...fields } = command;
      if (!capacityAboveRefill(command)) return refused('refill-above-capacity', ['refillAboveCapacity']);
      const blockCount = command.blockCount ?? usualBlockCount(command.blockSideMm);
      if (blockCount === undefined) return countMissing(command.blockSideMm);
      return unknownBench(desk, command.bench) ?? [{ event: 'new', ...base, ...fields, blockCount }];
    }
    case 'sown':
    case 'germinated':
    case 'ready-for-water':
      return [{ event: command.do, ...base }];
    case 'cover':
      return command.cover === 'none'
        ? [{ event: 'uncovered', ...base }]
        : [{ event: 'covered', ...base, cover: command.cover }];
    case 'move':
      return unknownBench(desk, command.bench) ?? [{ event: 'moved', ...base, bench: command.bench }];
    case 'pot-on': {
      const bench = command.bench === undefined ? undefined : unknownBench(desk, command.bench);
      if (bench !== undefined) return bench;
      const heir = heirOf(desk, command, base);
      return 'ok' in heir ? heir : [...heir, { event: 'potted-on', ...base, toTray: command.toTray }];
    }
    case 'looked':
      return [{ event: 'looked', ...base, level: command.level }];
    case 'weighed':
      return (
        impossibleWeight(standingTray(desk, command.tray), command.grams) ?? [
          { event: 'weighed', ...base, grams: command.grams },
        ]
      );
    case 'attach':
      return unknownProbe(desk, command.probe) ?? [{ event: 'attached', ...base, probe: command.probe }];
    case 'end':
      return [{ event: 'ended', ...base }];
  }
}

function saidDone(desk: Desk, command: TrayCommand): Said {
  const { tray } = command;
  if (command.do !== 'new-tray') return ['trayStep', tray, command];
  const blockCount = standingTray(desk, tray)?.blockCount ?? 0;
  return ['trayStep', tray, { ...command, blockCount }];
}

/** A step of a tray's life. All events are tried before one is played, so that nothing is half done. */
export function trayCommand(desk: Desk, command: TrayCommand, atMs: number, nowMs: number): CommandOutcome {
  const base: Base = {
    at: toInstant(atMs),
    tray: command.tray,
    ...(command.by === undefined ? {} : { by: command.by }),
  };
  const events = eventsOf(desk, command, base);
  if ('ok' in events) return events;
  let trial = desk.state.history;
  for (const event of events) {
    const outcome = recordEvent(trial, event);
    if ('refused' in outcome)
      return refused(outcome.code, eventRefusal(outcome.code, event, standingTray(desk, event.tray), desk));
    trial = outcome;
  }
  const effects = events.flatMap((event) => applyTrayEvent(desk, event, nowMs).effects);
  return done(saidDone(desk, command), effects);
}
