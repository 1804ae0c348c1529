import { mkdtempSync, rmSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Command as Commander } from 'commander';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { TestCall } from '../../shared/base/test-call.js';
import { farmConfigSchema } from '../../shared/config/farm.js';
import { tookWords } from '../../src/cli/asking/test-ways.js';
import { register } from '../../src/cli/grower/call.js';
import { tellFailure } from '../../src/cli/program/exit-status.js';
import { realClock } from '../../src/cli/program/real-clock.js';
import { openHouse } from '../../src/cli/running/house-parts/house.js';
import { createPublisher } from '../../src/messaging/publisher.js';
import type { ProbeReader, Publisher } from '../../src/monitor/ports/ports.js';
import { createMemoryStore } from '../helpers/memory-store.js';
import { describeIf } from '../helpers/needs.js';
import { type Listener, listener } from './listener.js';
import { createMosquitto, LOGIN, type Mosquitto } from './mosquitto.js';
import { quietLog } from './quiet-log.js';

const secret = `whsec_${Buffer.from('twenty-four bytes of it!').toString('base64')}`;
const noBoards: ProbeReader = {
  sample: () => Promise.resolve([]),
  health: () => [],
  showCall: () => Promise.resolve(),
  onAcknowledge: () => undefined,
  close: () => Promise.resolve(),
};

/** A round so far off on the real clock that no notice of it comes in between. */
const farRound = (): string => new Date(realClock.nowMs() + 10 * 3_600_000).toISOString().slice(11, 16);

describe('tookWords()', () => {
  it.each([
    [21, '0.02 s'],
    [1_540, '1.5 s'],
    [75_000, '75 s'],
    [185_000, '3 min'],
  ])('%i ms is "%s"', (ms, words) => expect(tookWords(ms)).toBe(words));
});

function suite(name: string, openBroker: () => Promise<Mosquitto | undefined>): void {
  describe(`drybell call --test, ${name}`, () => {
    let folder: string;
    let mosquitto: Mosquitto | undefined;
    let gateway: Server;
    let gatewayAnswers: number;
    let publisher: Publisher;
    let phone: Listener;
    let out: string[];
    let err: string[];
    let onPost: (call: TestCall) => void;
    let posted: { readonly type: string; readonly data: TestCall }[];
    let store: ReturnType<typeof createMemoryStore>;

    beforeEach(async () => {
      folder = mkdtempSync(join(tmpdir(), 'drybell-test-call-'));
      out = [];
      err = [];
      posted = [];
      store = createMemoryStore();
      gatewayAnswers = 204;
      onPost = () => undefined;
      gateway = createServer((request, response) => {
        const chunks: Buffer[] = [];
        request.on('data', (chunk: Buffer) => chunks.push(chunk));
        request.on('end', () => {
          response.writeHead(gatewayAnswers).end();
          if (gatewayAnswers >= 300) return;
          const post = JSON.parse(Buffer.concat(chunks).toString()) as (typeof posted)[number];
          posted.push(post);
          if (post.type === 'test-call') onPost(post.data);
        });
      });
      await new Promise<void>((resolve) => gateway.listen(0, '127.0.0.1', resolve));
      mosquitto = await openBroker();
      const config = farmConfigSchema.parse({
        farm: 'alder-row',
        timeZone: 'UTC',
        rounds: [farRound()],
        benches: [{ id: 'south' }],
        messaging: {
          ...(mosquitto === undefined
            ? { listenPort: 0 }
            : { url: `mqtt://127.0.0.1:${mosquitto.port}`, ...LOGIN }),
          webhooks: [
            { id: 'sms', url: `http://127.0.0.1:${(gateway.address() as AddressInfo).port}/`, secret },
          ],
        },
      });
      publisher = await createPublisher({
        farm: config.farm,
        config: config.messaging,
        drive: 'live',
        timeZone: config.timeZone,
        dataFolder: folder,
        nowMs: realClock.nowMs,
        random: () => 0,
        log: quietLog,
      });
      await openHouse({
        config,
        drive: 'live',
        clock: realClock,
        clockSpeed: 1,
        reader: noBoards,
        store,
        publisher,
      });
      phone = await listener(publisher.address(), ['drybell/alder-row/#'], {
        username: LOGIN.user,
        password: LOGIN.password,
      });
      await phone.next(({ topic, text }) => topic.endsWith('/status') && text.includes('"online":true'));
      vi.spyOn(console, 'log').mockImplementation((line: string) => void out.push(line));
      vi.spyOn(console, 'error').mockImplementation((line: string) => void err.push(line));
    });

    afterEach(async () => {
      vi.restoreAllMocks();
      process.exitCode = 0;
      await phone.close();
      await publisher.close();
      await mosquitto?.close();
      gateway.closeAllConnections();
      await new Promise((resolve) => gateway.close(resolve));
      rmSync(folder, { recursive: true, force: true });
    });

    async function drybell(...words: string[]): Promise<number> {
      const program = new Commander('drybell').exitOverride();
      register(program);
      const farm = ['--broker', publisher.address(), '--farm', 'alder-row'];
      const reach = [...farm, '--user', LOGIN.user, '--password', LOGIN.password];
      // as the program itself does: what is thrown is told in a line and makes the exit status
      const failed = await program
        .parseAsync(['call', ...words, ...reach], { from: 'user' })
        .then(() => 0, tellFailure);
      const status = failed === 0 ? Number(process.exitCode ?? 0) : failed;
      process.exitCode = 0;
      return status;
    }
    /** A phone whose button sends back what stands in `answer`. */
    const answerFrom = (call: TestCall) =>
      phone.send('drybell/alder-row/command', JSON.stringify({ ...call.answer, by: 'ana' }));

    it('reports each way as handed over and answered, with how long it took', async () => {
      onPost = answerFrom;
      void phone
        .next(({ topic }) => topic.endsWith('/test-call'))
        .then(({ text }) => answerFrom(JSON.parse(text) as TestCall));
      expect(await drybell('--test', '--wait', '1')).toBe(0);
      expect(err).toEqual([]);
      const lines = out.join('\n');
      expect(lines).toContain('A test call goes out by mqtt, sms.');
      for (const way of ['mqtt', 'sms']) {
        expect(lines).toMatch(new RegExp(`^${way}: handed over after \\d+\\.\\d+ s$`, 'm'));
        expect(lines).toMatch(new RegExp(`^${way}: answered after \\d+\\.\\d+ s by ana$`, 'm'));
      }
      const said = phone.heard.filter(({ topic }) => topic.endsWith('/say'));
      expect(said.map(({ text }) => text.slice(0, 54))).toEqual([
        'Test call of alder-row by mqtt: nothing is wrong. To a',
      ]);
      expect(posted.map(({ type, data }) => [type, data.way, data.sentence.slice(0, 29)])).toEqual([
        ['test-call', 'sms', 'Test call of alder-row by sms'],
      ]);
      expect(phone.heard.filter(({ topic }) => /\/(call|alarm\/.*)$/.test(topic))).toEqual([]);
      const journal = await store.facts(['alarm', 'call'], { fromMs: 0, toMs: realClock.nowMs() + 1 }, 10);
      expect(journal).toEqual([]);
    });

    it('says so, exit status 1, when nobody answers', async () => {
      expect(await drybell('--test', '--wait', '0.01')).toBe(1);
      expect(out).toContainEqual(expect.stringMatching(/^mqtt: handed over after .*, not answered$/));
      expect(err).toEqual([expect.stringMatching(/^Nobody answered the test call within 0\.6 s\./)]);
    });

    it('says that the connection ended, not that nobody answered, when it did', async () => {
      // the phone, and a way's report, may come before the sender has its answer: all are waited for
      const cut = phone
        .next(({ topic }) => topic.endsWith('/test-call'))
        .then(() =>
          vi.waitFor(() => expect(out.join()).toContain('A test call goes out'), { timeout: 10_000 }),
        )
        .then(() => mosquitto?.stop() ?? publisher.close());
      expect(await drybell('--test', '--wait', '1')).toBe(1);
      await cut;
      expect(err).toEqual([expect.stringMatching(/^The connection to the monitor ended after [\d.]+ s;/)]);
    });

    it('names the way that does not take it, and why', async () => {
      gatewayAnswers = 503;
      void phone
        .next(({ topic }) => topic.endsWith('/test-call'))
        .then(({ text }) => answerFrom(JSON.parse(text) as TestCall));
      expect(await drybell('--test', '--wait', '0.02')).toBe(1);
      expect(out).toContain("sms: not taken, it answers 503: look at the gateway's log");
      expect(out).toContain("sms: not handed over, it answers 503: look at the gateway's log");
      expect(err).toEqual([
        'Somebody answered, but not every way took the test call within 1.2 s. Not handed over: sms; the lines above say why.',
      ]);
    });

    it('takes the answer from the command line as well, and refuses one when no test is out', async () => {
      expect(await drybell('--seen', 'sms')).toBe(3);
      expect(err.splice(0)).toEqual([expect.stringContaining('No test call waits for this answer')]);
      phone.send('drybell/alder-row/command/t1', '{"do":"test-call"}');
      await phone.next(({ topic }) => topic.endsWith('/reply/t1'));
      expect(await drybell('--seen', 'sms', '--by', 'ben')).toBe(0);
      const report = await phone.next(({ text }) => text.includes('"state":"seen"'));
      expect(JSON.parse(report.text)).toMatchObject({ test: 't1', way: 'sms', by: 'ben' });
    });

    it('says what was mistyped, exit status 2', async () => {
      expect(await drybell()).toBe(2);
      expect(err).toEqual([expect.stringContaining('Say either --test')]);
    });
  });
}

suite('own broker', () => Promise.resolve(undefined));
describeIf('mosquitto', 'with a real mosquitto', () => suite('mosquitto', () => createMosquitto()));
