import { randomBytes } from 'node:crypto';
import { toInstant } from '../../../../shared/base/ids.js';
import type { FarmConfig } from '../../../../shared/config/farm.js';
import { chunksFromKept } from '../../../monitor/day/kept-day.js';
import { Monitor } from '../../../monitor/monitor.js';
import type { Fact } from '../../../monitor/ports/facts.js';
import type {
  Clock,
  FactStore,
  ProbeReader,
  Publisher,
  ReviewQueries,
} from '../../../monitor/ports/ports.js';
import { startEvents } from '../../../monitor/start/start-events.js';
import { createRoundCalendar } from '../../../monitor/time/create-round-calendar.js';
import type { FarmPresent, PageFeed } from '../../../review/feed/page-feed.js';
import type { DeskSentences } from '../../../watering/sentences/said/desk-sentences.js';
import type { Said } from '../../../watering/sentences/said/said.js';
import { createSpeech } from '../../../watering/sentences/speech.js';
import { sayIn, spokenAnswer } from '../../../watering/sentences/spoken.js';
import { DAY_ENDED_STARTS, DAY_NOT_PLAYED, leftOutSentence, setCutOffAside } from './cut-off.js';
import { datedNow } from './dated-now.js';
import { createFarmParts, type FarmParts, reopenFarm } from './farm-parts.js';
import { loadFarm, loadTurn } from './kept-farm.js';
import { knownTrays } from './known-trays.js';
import { stepByStep } from './step-by-step.js';

export interface HouseParts {
  readonly config: FarmConfig;
  readonly drive: 'live' | 'demo';
  readonly clock: Clock;
  /** Seconds of the farm's clock in one second. */
  readonly clockSpeed: number;
  readonly reader: ProbeReader;
  readonly store: FactStore & ReviewQueries;
  readonly publisher: Publisher;
  /** Called whenever the loop that does the work has come round. */
  readonly onBeat?: (() => void) | undefined;
  /** Told of our own mistakes, which kept something from being carried out. */
  readonly complain?: ((mistake: unknown) => void) | undefined;
}

export interface House extends FarmParts {
  readonly monitor: Monitor;
  readonly feed: PageFeed;
  /** What could not be read at this start and what became of it, a sentence each; told and in the journal already. */
  readonly troubles: readonly string[];
  /** Facts as they were kept and told, a turn at a time. */
  onFacts(listener: (facts: readonly Fact[]) => void): void;
}

const COMING_ROUNDS = 6;

interface OpenedFarm {
  readonly farm: FarmParts;
  /** By how much it was dated earlier, since the clock was set back while the house was off; 0: it was not. */
  readonly wentBackMs: number;
  readonly troubles: readonly string[];
}

/** The farm as it was left: as its last day makes it, else as desk and model were kept, or were built anew. */
async function openFarm(
  parts: HouseParts,
  turn: string | undefined,
  mayPlayDay: boolean,
): Promise<OpenedFarm> {
  const { config, store, clock, drive, complain } = parts;
  const startMs = clock.nowMs();
  const options = { startMs, drive, complain, turn };
  const past = mayPlayDay ? await chunksFromKept((name) => store.loadState(name), turn) : [];
  const reopened = reopenFarm(config, options, past);
  if (reopened !== undefined) {
    const sentence = leftOutSentence(reopened.leftOut);
    return { ...reopened, troubles: sentence === undefined ? [] : [sentence] };
  }
  const kept = await loadFarm(config, store, startMs);
  const { desk, model, wentBackMs } = datedNow(kept, startMs);
  const farm = createFarmParts(config, { ...options, deskState: desk, modelState: model });
  const left = mayPlayDay ? (past.length > 0 ? [DAY_NOT_PLAYED] : []) : [DAY_ENDED_STARTS];
  return { farm, wentBackMs, troubles: [...left, ...kept.troubles] };
}

const asTheyAre = (words: readonly string[]): Said[] => words.map((one) => ['asItIs', one]);

/** What was found amiss, in the journal and told, once. */
async function tellTroubles(
  { store, publisher, clock }: HouseParts,
  say: DeskSentences,
  troubles: readonly Said[],
): Promise<void> {
  if (troubles.length === 0) return;
  const at = toInstant(clock.nowMs());
  const notes = troubles.map((said): Fact => ({ kind: 'note', at, by: 'monitor', said }));
  await store.keep(notes);
  await publisher.tell([
    ...notes,
    { kind: 'status', status: { online: true, at, troubles: troubles.map((said) => sayIn(said, say)) } },
  ]);
}

/** Alarms and the coming round's notice as the saved state has them: a broker or outbox that never heard of them hears it now. */
function stillStanding({ desk }: FarmParts, nowMs: number): readonly Fact[] {
  const { alarms, notice } = desk.standing();
  const told = alarms.map((transition): Fact => ({ kind: 'alarm', transition }));
  return notice === undefined || Date.parse(notice.round) <= nowMs
    ? told
    : [...told, { kind: 'round-notice', notice }];
}

/** Opens the house: pipeline, monitor and the page's feed, with what the store remembers. Nothing is read yet. */
export async function openHouse(parts: HouseParts): Promise<House> {
  const { say } = createSpeech(parts.config);
  const { config, clock, reader, store, publisher } = parts;
  const { turn, troubles: turnTroubles } = await loadTurn(store);
  if (turn !== undefined) await publisher.tell(turn.facts, turn.id);
  const cutOff = await setCutOffAside(parts);
  const { farm, wentBackMs, troubles: farmTroubles } = await openFarm(parts, turn?.id, cutOff.mayPlayDay);
  const known = await knownTrays(store, clock.nowMs() + wentBackMs);
  for (const event of startEvents(config, clock.nowMs()))
    if (!known.has(event.tray)) farm.pipeline.trayEvent(event, clock.nowMs());
  const troubles: readonly Said[] = [
    ...asTheyAre(store.troubles?.() ?? []),
    ...asTheyAre(publisher.troubles?.() ?? []),
    ...asTheyAre(turnTroubles),
    ...cutOff.troubles,
    ...asTheyAre(farmTroubles),
  ];
  const rounds = createRoundCalendar(config.rounds, config.timeZone);
  const listeners = new Set<(fact: Fact) => void>();
  const hearers: ((facts: readonly Fact[]) => void)[] = [];
  const monitor = new Monitor({
    pipeline: farm.pipeline,
    clock,
    reader,
    store,
    publisher,
    cadenceS: config.cadenceS,
    clockSpeed: parts.clockSpeed,
    wentBackMs,
    onBeat: parts.onBeat,
    onFacts: (facts) => {
      for (const fact of facts) {
        for (const listener of listeners) listener(fact);
      }
      for (const hear of hearers) hear(facts);
    },
  });
  const feed: PageFeed = {
    present: (): FarmPresent => {
      const { alarms, awayUntilMs, notice, test } = farm.desk.standing();
      return {
        nowMs: clock.nowMs(),
        clockSpeed: parts.clockSpeed,
        drive: parts.drive,
        canTell: true,
        trays: farm.desk.trays(),
        forecasts: farm.pipeline.shownForecasts(),
        levels: farm.pipeline.levels(),
        notice,
        awayUntilMs,
        test,
        nextRounds: rounds.after(clock.nowMs(), COMING_ROUNDS),
        standing: alarms,
        health: farm.pipeline.health(),
        contradictedH: (probeId) => farm.pipeline.model.contradictedH(probeId),
        boards: reader.health(),
        news: reader.news?.(),
        probeTrays: farm.desk.probeTrays(),
      };
    },
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    command: async (command) => {
      const ref = command.ref ?? `page-${randomBytes(6).toString('hex')}`;
      return spokenAnswer(await monitor.command(command, ref), say);
    },
    undoRule: () => farm.pipeline.undoRule(),
    why: (trayId, atMs) => stepByStep(farm.pipeline.why(trayId, atMs)),
  };
  await publisher.tell(stillStanding(farm, clock.nowMs()));
  await tellTroubles(parts, say, troubles);
  return {
    pipeline: farm.pipeline,
    get desk() {
      return farm.desk;
    },
    get model() {
      return farm.model;
    },
    monitor,
    feed,
    troubles: troubles.map((said) => sayIn(said, say)),
    onFacts: (listener) => void hearers.push(listener),
  };
}
