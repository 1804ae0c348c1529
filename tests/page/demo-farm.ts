import { toInstant } from '../../shared/base/ids.js';
import type { AlarmTransition } from '../../shared/facts/alarm.js';
import type { Forecast } from '../../shared/facts/forecast.js';
import type { RoundNotice } from '../../shared/facts/round-notice.js';
import type { Answer, Command } from '../../shared/wire/command.js';
import type { Fact } from '../../src/monitor/ports/facts.js';
import type { FarmPresent, PageFeed } from '../../src/review/feed/page-feed.js';
import type { TrayNow } from '../../src/watering/desk/watering-desk.js';
import { createMemoryStore } from '../helpers/memory-store.js';
import {
  demoConfig,
  forecastFact,
  HOUR_MS,
  SEASON_END_MS,
  SEASON_START_MS,
  seasonFacts,
} from './demo-season.js';
import { demoWhy } from './demo-why.js';
import { seasonTrays } from './season-trays.js';

/** A farm behind the page for tests: a kept season, and a desk that does what a few commands say and notes them all. */
export interface DemoFarm {
  readonly config: ReturnType<typeof demoConfig>;
  readonly store: ReturnType<typeof createMemoryStore>;
  readonly feed: PageFeed;
  readonly commands: readonly Command[];
  /** Lets something happen: kept, and told to the page. */
  happen(fact: Fact): Promise<void>;
  setClock(nowMs: number): void;
}

export async function createDemoFarm(startMs = SEASON_START_MS): Promise<DemoFarm> {
  const config = demoConfig();
  const store = createMemoryStore();
  const season = [...seasonFacts(SEASON_END_MS, startMs)];
  await store.keep(season);
  const listeners = new Set<(fact: Fact) => void>();
  const commands: Command[] = [];
  const forecasts = new Map<string, Forecast>();
  for (const fact of season) if (fact.kind === 'forecast') forecasts.set(fact.forecast.tray, fact.forecast);
  const trays: TrayNow[] = seasonTrays().map(trayNow);
  const standing: AlarmTransition[] = [...standingCalls()];
  let nowMs = SEASON_END_MS;
  const notice = noticeOf(forecasts);

  let test: NonNullable<FarmPresent['test']> | undefined;
  const happen = async (fact: Fact): Promise<void> => {
    await store.keep([fact]);
    if (fact.kind === 'forecast') forecasts.set(fact.forecast.tray, fact.forecast);
    if (fact.kind === 'alarm') {
      const { kind, tray, source } = fact.transition;
      const place = standing.findIndex(
        (one) => one.kind === kind && one.tray === tray && one.source === source,
      );
      if (place >= 0) standing.splice(place, 1);
      if (fact.transition.state !== 'normal') standing.push(fact.transition);
    }
    if (fact.kind === 'test-call') test = { atMs: Date.parse(fact.at), ways: fact.ways };
    if (fact.kind === 'test-seen' && test !== undefined) {
      const ways = test.ways.filter((way) => way !== fact.way);
      test = ways.length === 0 ? undefined : { ...test, ways };
    }
    for (const listener of listeners) listener(fact);
  };

  const waterTray = async (trayId: string, by: string | undefined, ml?: number): Promise<void> => {
    const tray = seasonTrays().find((one) => one.id === trayId);
    if (tray === undefined) return;
    const at = toInstant(nowMs);
    const who = by === undefined ? {} : { by };
    const poured = ml === undefined ? {} : { ml };
    await happen({ kind: 'tray-event', event: { at, tray: trayId, event: 'watered', ...poured, ...who } });
    await happen({ kind: 'watering', watering: { at, tray: trayId, source: 'logged', ...poured, ...who } });
    await happen(forecastFact({ tray, waterContent: tray.full }, nowMs));
    for (const call of [...standing].filter((one) => one.tray === trayId))
      await happen({ kind: 'alarm', transition: { at, kind: call.kind, state: 'normal', tray: trayId } });
  };

  const command = async (wish: Command): Promise<Answer> => {
    commands.push(wish);
    const at = toInstant(nowMs);
    const answer = (ok: boolean, code: string, sentence: string): Answer => ({
      ref: wish.ref ?? 'none',
      at,
      ok,
      code,
      sentence,
    });
    if ('tray' in wish && wish.do !== 'new-tray' && wish.tray !== undefined)
      if (!trays.some((tray) => tray.id === wish.tray))
        return answer(false, 'unknown-tray', `There is no tray "${wish.tray}".`);
    if (wish.do === 'watered' && wish.tray !== undefined) await waterTray(wish.tray, wish.by, wish.ml);
    if (wish.do === 'round-done')
      for (const due of notice.due) if (!wish.except.includes(due.tray)) await waterTray(due.tray, wish.by);
    if (wish.do === 'acknowledge' || wish.do === 'shelve') {
      const state = wish.do === 'shelve' ? 'shelved' : 'acknowledged';
      const until = wish.do === 'shelve' ? { shelvedUntil: wish.until } : {};
      const of = wish.of;
      for (const call of [...standing].filter(
        (one) => (one.tray ?? one.source) === of && one.kind === wish.kind,
      ))
        await happen({ kind: 'alarm', transition: { ...call, at, state, ...until } });
    }
    if (wish.do === 'note')
      await happen({
        kind: 'note',
        at,
        text: wish.text,
        ...(wish.tray === undefined ? {} : { tray: wish.tray }),
        ...(wish.by === undefined ? {} : { by: wish.by }),
      });
    if (wish.do === 'test-seen' && wish.way !== undefined)
      await happen({ kind: 'test-seen', at, test: 'test-1', way: wish.way });
    if (wish.do === 'cover') change(wish.tray, { cover: wish.cover });
    if (wish.do === 'new-tray')
      trays.push({
        id: wish.tray,
        benchId: wish.bench,
        blockSideMm: wish.blockSideMm,
        blockCount: wish.blockCount ?? 72,
        crop: wish.crop,
        cover: wish.cover ?? 'none',
        startedAtMs: nowMs,
        hasProbe: false,
      });
    if (wish.do === 'end')
      trays.splice(
        trays.findIndex((tray) => tray.id === wish.tray),
        1,
      );
    const done = answer(true, 'done', 'Noted.');
    for (const listener of listeners) listener({ kind: 'answer', answer: done });
    return done;
  };

  const change = (trayId: string, to: Partial<TrayNow>): void => {
    const place = trays.findIndex((tray) => tray.id === trayId);
    const tray = trays[place];
    if (tray !== undefined) trays[place] = { ...tray, ...to };
  };

  const present = (): FarmPresent => ({
    nowMs,
    clockSpeed: 1,
    drive: 'live',
    canTell: true,
    trays,
    forecasts,
    levels: new Map(
      seasonTrays().map(({ id, full, refill }) => [
        id,
        { containerCapacityM3PerM3: full, refillPointM3PerM3: refill },
      ]),
    ),
    notice,
    test,
    nextRounds: [50, 830, 1490, 2270].map((minutes) => SEASON_END_MS + minutes * 60_000),
    standing,
    health: [{ kind: 'probe', source: 'moist-t5', ok: false, reason: 'flat-line' }],
    boards: [],
    probeTrays: new Map(
      seasonTrays()
        .filter((tray) => tray.hasProbe)
        .map((tray) => [`moist-${tray.id}`, tray.id]),
    ),
  });

  return {
    config,
    store,
    commands,
    feed: {
      present,
      subscribe: (listener) => {
        listeners.add(listener);
        return () => listeners.delete(listener);
      },
      command,
      why: async (trayId, atMs) => demoWhy(forecasts.get(trayId), Math.min(atMs, nowMs)),
    },
    happen,
    setClock: (atMs) => {
      nowMs = atMs;
    },
  };
}

function trayNow(tray: ReturnType<typeof seasonTrays>[number]): TrayNow {
  const startedAtMs = SEASON_START_MS + tray.startsDay * 24 * HOUR_MS;
  return {
    id: tray.id,
    benchId: tray.bench,
    blockSideMm: tray.blockSideMm,
    blockCount: tray.blockCount,
    crop: tray.crop,
    cover: tray.id === 't13' ? 'loose-dome' : 'none',
    sownAtMs: startedAtMs,
    ...(tray.id === 't13' ? {} : { germinatedAtMs: startedAtMs + 6 * 24 * HOUR_MS }),
    startedAtMs,
    hasProbe: tray.hasProbe,
  };
}

function* standingCalls(): Generator<AlarmTransition> {
  yield {
    at: toInstant(SEASON_END_MS - 22 * 60_000),
    kind: 'refill',
    state: 'unacknowledged',
    tray: 't2',
    reason: 'will-not-reach-round',
    sentence: 'Bench south: t2 (minis, lettuce) will be dry at about 17:50, before the 18:00 round.',
  };
  yield {
    at: toInstant(SEASON_END_MS - 26 * HOUR_MS),
    kind: 'probe',
    state: 'acknowledged',
    source: 'moist-t5',
    by: 'Anna',
    sentence: 'Probe moist-t5 has drifted by 0.04; weigh its block, or calibrate it anew.',
  };
}

/** The notice of the 18:00 round, from the season's last forecasts. */
function noticeOf(forecasts: ReadonlyMap<string, Forecast>): RoundNotice {
  const roundMs = SEASON_END_MS + 50 * 60_000;
  const ranked = seasonTrays()
    .map((tray) => ({ tray, hours: forecasts.get(tray.id)?.hoursToRefillDriestTenth.p50 ?? 120 }))
    .sort((a, b) => a.hours - b.hours);
  const due = ranked.filter(({ hours }) => hours < 15);
  return {
    at: toInstant(SEASON_END_MS - 25 * 60_000),
    round: toInstant(roundMs),
    due: due.map(({ tray }, index) => {
      const missing = tray.full - (forecasts.get(tray.id)?.waterContentM3PerM3 ?? tray.full);
      const doseMl = Math.max(120, Math.round((missing * tray.blockSideMm ** 3 * tray.blockCount) / 1000));
      const pours = Math.max(1, Math.ceil(doseMl / 600));
      return {
        tray: tray.id,
        doseMl,
        bench: tray.bench,
        crop: tray.crop,
        blockSideMm: tray.blockSideMm,
        pourPlan: { pours, pourMl: doseMl / pours, soakMin: 20 },
        ...(index === 2 ? { perhapsWatered: true } : {}),
      };
    }),
    canWait: ranked
      .filter(({ hours }) => hours >= 15)
      .map(({ tray }) => ({ tray: tray.id, untilRound: toInstant(roundMs + 13 * HOUR_MS) })),
    sentence: `18:00 round: water ${due.length} trays, most urgent first: ${due.map(({ tray }) => tray.id).join(', ')}.`,
  };
}
