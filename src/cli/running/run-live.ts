import type { Logger } from 'pino';
import type { FarmConfig } from '../../../shared/config/farm.js';
import { deliveredTopics } from '../../board/delivered/delivered-reader.js';
import { boardWords } from '../../board/station/board-health.js';
import { keepPrivate } from '../../host/disk/keep-private.js';
import { createPublisher } from '../../messaging/publisher.js';
import { SignOfLife } from '../../messaging/sign-of-life.js';
import { wrongWords } from '../../review/server/house/watch-answers.js';
import { createSpeech } from '../../watering/sentences/speech.js';
import { spokenNote } from '../../watering/sentences/spoken.js';
import { farmFindings } from '../config/farm-rules.js';
import { secretFileFindings } from '../config/secret-file.js';
import { createLog } from '../program/log.js';
import { realClock } from '../program/real-clock.js';
import { stopSignal } from '../program/stop-signal.js';
import { liveGreeting } from '../terminal/greeting.js';
import { Narrator } from '../terminal/narrator.js';
import { BoardWords } from './board-words.js';
import { openProbes } from './house-parts/open-probes.js';
import { openStore } from './house-parts/open-store.js';
import { runHouse } from './run-house.js';
import { createSupervisor } from './supervisor.js';

const TABLE_EVERY_H = 6;

/** Watches the farm of a configuration until it is told to stop. Rejects with what made it impossible. */
export async function runLive(config: FarmConfig, file: string): Promise<void> {
  const isTerminal = process.stdout.isTTY;
  const log = createLog(isTerminal ? 'warn' : 'info');
  const say = (sentence: string) => log.warn({ sentence }, 'not-well');
  for (const { sentence } of farmFindings(config, realClock.nowMs())) say(sentence);
  for (const { sentence } of secretFileFindings(config, file)) say(sentence);
  keepPrivate(config.store.folder);
  const store = await openStore(config, realClock);
  const publisher = await createPublisher({
    farm: config.farm,
    config: config.messaging,
    drive: 'live',
    timeZone: config.timeZone,
    units: config.units,
    language: config.language,
    dataFolder: config.store.folder,
    shelf: store,
    readingTopics: deliveredTopics(config.probes),
    nowMs: realClock.nowMs,
    log,
  }).catch(async (cause: unknown) => {
    // what stays open keeps the process alive: dead, and not started again by anybody
    await store.close();
    throw cause;
  });
  const reader = openProbes({
    config,
    clock: realClock,
    brokerAddress: publisher.address(),
    asWhom: 'probes',
    log,
    complain: (board, cause) => log.warn({ board, err: cause }, 'board-trouble'),
  });
  const supervisor = createSupervisor(process.env, realClock.monotonicMs, (sentence) =>
    log.warn({ sentence }, 'supervisor-not-told'),
  );
  let wrong: readonly string[] = [];
  const sign = signOfLife(config, () => wrong, log);
  await runHouse({
    config,
    drive: 'live',
    clock: realClock,
    clockSpeed: 1,
    reader,
    store,
    publisher,
    log,
    stopped: stopSignal((signal) => {
      log.info({ signal }, 'stopping');
      supervisor.stopping();
    }),
    onBeat: (house) => {
      supervisor.beat();
      wrong = wrongWords(house.pipeline.health(), undefined, true);
      sign?.beat();
    },
    onReady: (house, page) => {
      const boards = new BoardWords(reader);
      house.onFacts(() => {
        for (const board of boards.changes()) {
          const { boardId, state } = board;
          const sentence = boardWords(board, config.language);
          log.info({ board: boardId, state, sentence }, 'board-state');
          if (isTerminal) console.log(`board ${boardId}: ${sentence}`);
        }
      });
      house.onFacts((facts) => {
        for (const fact of facts)
          if (fact.kind === 'note' && fact.by === 'monitor')
            log.warn({ text: spokenNote(fact, createSpeech(config).say).text }, 'house-note');
      });
      log.info(
        { farm: config.farm, broker: publisher.address(), page: page.address, store: config.store.folder },
        'ready',
      );
      supervisor.ready();
      if (!isTerminal) return;
      console.log(liveGreeting(config, { broker: publisher.address(), page: page.address }));
      const narrator = new Narrator(config, house.feed, TABLE_EVERY_H);
      house.onFacts((facts) => {
        for (const line of narrator.lines(facts)) console.log(line);
      });
    },
  }).finally(() => sign?.close());
}

function signOfLife({ farm, signOfLife: config }: FarmConfig, wrong: () => readonly string[], log: Logger) {
  const { nowMs, monotonicMs } = realClock;
  return config && new SignOfLife({ farm, config, nowMs, monotonicMs, wrong, log });
}
