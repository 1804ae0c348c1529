import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { messagingSchema } from '../../shared/config/messaging.js';
import { createPublisher } from '../../src/messaging/publisher.js';
import { bundleScript } from './bundle-script.js';
import { START_MS } from './facts.js';
import { type Listener, listener } from './listener.js';
import { quietLog } from './quiet-log.js';
import { aedesStage, type Stage } from './stages.js';

const ROUNDS = Number(process.env['DRYBELL_KILL_ROUNDS'] ?? 6);

/** Generous, for a machine that does much else. */
const ROUND_PATIENCE_MS = 20_000;

describe(`outbox under kill -9, ${ROUNDS} rounds`, () => {
  let script: string;
  let stage: Stage;
  let folder: string;
  let phone: Listener;

  beforeAll(async () => {
    script = await bundleScript('tests/messaging/outbox-child.ts', 'outbox-child');
    folder = mkdtempSync(join(tmpdir(), 'drybell-kill-'));
    stage = await aedesStage();
    phone = await listener(stage.url, ['drybell/alder-row/alarm/#'], {
      username: stage.login.user,
      password: stage.login.password,
    });
  });

  afterAll(async () => {
    await phone.close();
    await stage.close();
    rmSync(folder, { recursive: true, force: true });
  });

  /** Runs the child until it has said `lines` numbers, then kills it; the last number it said. */
  async function runAndKill(first: number, lines: number): Promise<number> {
    const url = `mqtt://127.0.0.1:${stage.cable.port}`;
    const child = spawn(
      process.execPath,
      [script, url, folder, stage.login.user, stage.login.password, String(first)],
      { stdio: ['ignore', 'pipe', 'inherit'] },
    );
    const exited = once(child, 'exit');
    let last = first - 1;
    let count = 0;
    for await (const line of createInterface({ input: child.stdout })) {
      last = Number(line);
      count += 1;
      if (count === lines) child.kill('SIGKILL');
    }
    await exited;
    return last;
  }

  it(
    'loses none of the alarms it took, broker there or not, and keeps their order',
    async () => {
      const taken: number[] = [];
      for (let round = 0; round < ROUNDS; round++) {
        if (round % 3 === 1) stage.cable.pull();
        else stage.cable.mend();
        // 1 to 241 alarms before the kill, spread over the rounds by a step that is prime to 241.
        const first = round * 10_000;
        const last = await runAndKill(first, 1 + ((round * 89) % 241));
        for (let number = first; number <= last; number++) taken.push(number);
      }
      stage.cable.mend();
      const publisher = await createPublisher({
        farm: 'alder-row',
        config: messagingSchema.parse({ url: stage.url, ...stage.login }),
        drive: 'live',
        timeZone: 'UTC',
        dataFolder: folder,
        nowMs: () => START_MS,
        log: quietLog,
      });
      await phone.next((message) => message.topic.endsWith(`/t${taken.at(-1)}/refill`));
      await publisher.close();
      const ids = new Map<string, string>();
      for (const { topic, text } of phone.heard.filter((message) => !message.retain)) {
        const id = String(JSON.parse(text).id);
        const tray = topic.split('/')[3] ?? '';
        expect(ids.get(tray) ?? id, 'a second copy has the same id').toBe(id);
        ids.set(tray, id);
      }
      const numbers = [...ids.keys()].map((tray) => Number(tray.slice(1)));
      const said = new Set(taken);
      // One more may have been taken in the instant between the outbox and the word for it.
      expect(numbers.filter((number) => said.has(number))).toEqual(taken);
    },
    ROUNDS * ROUND_PATIENCE_MS,
  );
});
