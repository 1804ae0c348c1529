import { cpSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import type { Answer } from '../../shared/wire/command.js';
import type { House } from '../../src/cli/running/house-parts/house.js';
import { Database } from '../../src/host/disk/sqlite.js';
import { CommandInbox } from '../../src/messaging/commands/command-inbox.js';
import { openMessagingFile } from '../../src/messaging/outbox/messaging-file.js';
import { PLAYING, playingState } from '../../src/monitor/ports/playing.js';
import { StateTable } from '../../src/store/sqlite/tables/state-table.js';
import { inWords } from '../helpers/in-words.js';
import { RunningMonitor } from '../helpers/running-monitor.js';
import { type Listener, listener } from '../messaging/listener.js';
import { closeAll, freshFolder, HOUR_MS, open, openOn, START_MS } from './small-house.js';

/** Kills at random moments; `DRYBELL_PLAY_KILLS=50` for more. */
const KILLS = Number(process.env['DRYBELL_PLAY_KILLS'] ?? 4);
const KILL_PATIENCE_MS = 60_000;
/** Longest wait before a kill: a few commands are done in it. */
const MOST_WAIT_MS = 120;

const newTray = (tray: string) =>
  ({ do: 'new-tray', tray, bench: 'south', blockSideMm: 38, blockCount: 72 }) as const;
const trayIds = (house: House): string[] => house.desk.trays().map(({ id }) => id);

async function closeAllOpen(): Promise<void> {
  for (const one of open.splice(0)) await one.close();
}

/** Keeps a document in the store of a house that is not running. */
function leaveState(folder: string, name: string, state: unknown): void {
  const db = new Database(join(folder, 'drybell.db'));
  new StateTable(db).save(name, JSON.stringify(state), START_MS);
  db.close();
}

describe('what a crash cut off in the middle', () => {
  afterEach(closeAll);

  it('a command is not done a second time: it is answered, said once, and can be told anew', async () => {
    const folder = freshFolder();
    const found = freshFolder();
    const { house, clock, runTo } = await openOn(folder, START_MS);
    await runTo(START_MS + HOUR_MS);
    // The disk as a power cut finds it that comes while t3 is being entered.
    const { pipeline } = house;
    const play = pipeline.command.bind(pipeline);
    pipeline.command = (command, ref) => {
      cpSync(folder, found, { recursive: true, filter: (path) => !path.endsWith('writer.lock') });
      return play(command, ref);
    };
    await house.feed.command({ ...newTray('t3'), ref: 'n3' });
    const after = await openOn(found, clock.nowMs() + 60_000);
    const answers = after.publisher.told.flatMap((fact) => (fact.kind === 'answer' ? [fact.answer] : []));
    const answer = answers.find(({ ref }) => ref === 'n3');
    expect(answer).toMatchObject({ ok: false, code: 'not-carried-out' });
    expect(inWords(answer?.said)).toMatch(/carried out "new-tray" \(t3\).*nothing of it has happened/);
    expect(after.house.troubles).toEqual([inWords(answer?.said)]);
    expect(trayIds(after.house)).toEqual(['t1', 't2']);
    expect((await after.house.feed.command({ ...newTray('t3'), ref: 'n4' })).ok).toBe(true);
    const atMs = after.clock.nowMs();
    await closeAll();
    expect(trayIds(house)).toEqual(['t1', 't2', 't3']);
    expect(atMs).toBeGreaterThan(START_MS);
  });

  it('a kept day that ends every start is left alone at the third; what was told stays', async () => {
    const folder = freshFolder();
    const first = await openOn(folder, START_MS);
    await first.runTo(START_MS + HOUR_MS);
    await first.house.feed.command({ ...newTray('t3'), ref: 'n3' });
    await closeAllOpen();
    const at = new Date(START_MS + HOUR_MS).toISOString();
    const openAfter = async (count: number) => {
      leaveState(folder, PLAYING, playingState({ what: 'start', at, count }));
      const opened = await openOn(folder, START_MS + 2 * HOUR_MS);
      const { troubles } = opened.house;
      const ids = trayIds(opened.house);
      await closeAllOpen();
      return { troubles, ids };
    };
    const ids = ['t1', 't2', 't3'];
    expect(await openAfter(1)).toEqual({ troubles: [], ids });
    expect(await openAfter(2)).toEqual({ troubles: [expect.stringMatching(/^The last starts ended/)], ids });
  });
});

describe(`the built program, killed while it carries out commands, ${KILLS} times`, () => {
  let monitor: RunningMonitor;
  let phone: Listener | undefined;

  beforeAll(async () => {
    monitor = await RunningMonitor.start({});
  });

  afterEach(async () => {
    await phone?.close();
    phone = undefined;
  });

  afterAll(async () => {
    await monitor.stop();
  });

  const answerTo = async (ref: string): Promise<Answer> => {
    const message = await phone?.next(({ topic }) => topic === `drybell/alder-row/reply/${ref}`);
    return JSON.parse(message?.text ?? '') as Answer;
  };
  const listen = async (): Promise<Listener> => {
    await phone?.close();
    phone = await listener(monitor.broker, ['drybell/alder-row/reply/+', 'drybell/alder-row/status'], {
      clientId: 'phone',
      clean: false,
    });
    return phone;
  };

  it('answers what it finds being carried out, does not do it, and says so at one start only', async () => {
    await monitor.end('SIGTERM');
    const data = join(monitor.folder, 'data');
    const command = newTray('poison');
    const at = new Date().toISOString();
    leaveState(data, PLAYING, playingState({ what: 'command', at, ref: 'p1', command }));
    const { database } = openMessagingFile(join(data, 'outbox.db'), Date.now());
    const received = { ref: 'p1', payload: JSON.stringify(command), receivedAtMs: Date.now() };
    new CommandInbox(database).receive(received, Date.now());
    database.close();
    await monitor.startAgain();
    const told = await listen();
    const status = await told.next(({ topic }) => topic.endsWith('/status'));
    expect(status.text).toMatch(/while it carried out \\"new-tray\\" \(poison\)/);
    told.send('drybell/alder-row/command/p1', JSON.stringify(command));
    expect(await answerTo('p1')).toMatchObject({ ok: false, code: 'not-carried-out' });
    told.send('drybell/alder-row/command/l1', '{"do":"list-trays"}');
    expect((await answerTo('l1')).trays).toEqual([]);
    await monitor.end('SIGTERM');
    await monitor.startAgain();
    const again = await listen();
    const quiet = await again.next(
      ({ topic, text }) => topic.endsWith('/status') && text.includes('"drive"'),
    );
    expect(quiet.text).not.toMatch(/carried out/);
  });

  it(
    'starts each time; every command is answered in the end, and there is what was answered done, and nothing else',
    async () => {
      const sent: string[] = [];
      for (let kill = 0; kill < KILLS; kill++) {
        await monitor.end('SIGTERM');
        await monitor.startAgain();
        const told = await listen();
        for (let n = 0; n < 8; n++) {
          const ref = `k${kill}-${n}`;
          sent.push(ref);
          await told.client.publishAsync(`drybell/alder-row/command/${ref}`, JSON.stringify(newTray(ref)), {
            qos: 1,
          });
        }
        await new Promise((resolve) => setTimeout(resolve, Math.random() * MOST_WAIT_MS));
        await monitor.end('SIGKILL');
      }
      await monitor.startAgain();
      const told = await listen();
      // Sent again under the same ref a command is not done again, but answered as it was.
      for (const ref of sent) told.send(`drybell/alder-row/command/${ref}`, JSON.stringify(newTray(ref)));
      const answers = await Promise.all(sent.map(answerTo));
      for (const { ok, code } of answers) expect(ok ? 'done' : 'not-carried-out').toBe(code);
      told.send('drybell/alder-row/command/l2', '{"do":"list-trays"}');
      const trays = (await answerTo('l2')).trays?.map(({ id }) => id) ?? [];
      const done = answers.filter(({ ok }) => ok).map(({ ref }) => ref);
      expect([...trays].sort()).toEqual([...done].sort());
    },
    KILLS * KILL_PATIENCE_MS,
  );
});
