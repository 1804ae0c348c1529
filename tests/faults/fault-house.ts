import { createSocket } from 'node:dgram';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import Database from 'better-sqlite3';
import { answerSchema } from '../../shared/wire/command.js';
import { farmTopics } from '../../shared/wire/topics.js';
import { freePort, RunningMonitor } from '../helpers/running-monitor.js';
import { mountDisk, type SizeLimitedDisk } from '../helpers/size-limited-disk.js';
import { type Cable, layCable } from '../messaging/cable.js';
import { type Listener, listener } from '../messaging/listener.js';
import { createMosquitto, LOGIN, type Mosquitto } from '../messaging/mosquitto.js';
import { Influxd } from '../store/helpers/influxd.js';

/** A farm's probes; with a reading of each every two seconds the store writes every six. */
const PROBE_COUNT = 20;
const FEED_EVERY_MS = 400;
const DISK_BYTES = 8_000_000;
const FARM = 'alder-row';
const topics = farmTopics(FARM);

/** What a harm needs beside the program. */
export type Need = 'mosquitto' | 'influxd' | 'disk' | 'clock';

export interface Counts {
  readonly readingsSeen: number;
  readonly readingsFound: number;
  readonly notesAnswered: number;
  readonly notesFound: number;
  readonly notesDoubled: number;
  readonly callsDue: number;
  readonly callsMade: number;
  readonly callsDoubled: number;
  readonly slowestCallS: number;
}

interface Test {
  readonly askedAtMs: number;
  answered: boolean;
  readonly ids: Set<string>;
  heardAtMs?: number;
}

/** The built program with real parts around it, a phone that talks to it, and a feed of readings. */
export class FaultHouse {
  readonly #feed = createSocket('udp4');
  readonly #notes = new Map<string, boolean>();
  readonly #tests = new Map<string, Test>();
  readonly #seen = new Set<string>();
  #phone: Listener | undefined;
  #timer: NodeJS.Timeout | undefined;
  #number = 0;

  private constructor(
    readonly monitor: RunningMonitor,
    readonly folder: string,
    private readonly phoneUrl: string,
    private readonly udpPort: number,
    readonly ports: { readonly page: number; readonly broker: number },
    readonly broker: Mosquitto | undefined,
    readonly cable: Cable | undefined,
    readonly influx: Influxd | undefined,
    readonly disk: SizeLimitedDisk | undefined,
  ) {}

  /** Undefined where this machine lacks what is needed. */
  static async open(needs: readonly Need[], env: NodeJS.ProcessEnv = {}): Promise<FaultHouse | undefined> {
    const disk = needs.includes('disk') ? mountDisk(DISK_BYTES) : undefined;
    if (needs.includes('disk') && disk === undefined) return undefined;
    const broker = needs.includes('mosquitto') ? await createMosquitto() : undefined;
    const cable = broker === undefined ? undefined : await layCable(broker.port);
    const influx = needs.includes('influxd') ? await Influxd.start() : undefined;
    const [udpPort, listenPort, pagePort] = [await freePort(), await freePort(), await freePort()];
    const probes = Array.from({ length: PROBE_COUNT }, (_, number) => ({
      id: `temp-${number}`,
      kind: 'air-temperature',
      bench: 'south',
      hookup: { part: 'delivered', udpPort, path: `/${number}`, unit: 'Cel', staleAfterS: 10 },
    }));
    const monitor = await RunningMonitor.start(
      {
        cadenceS: 2,
        page: { listenPort: pagePort },
        probes,
        trays: [{ id: 't1', bench: 'south', blockSideMm: 38, blockCount: 72 }],
        messaging: cable === undefined ? { listenPort } : { url: `mqtt://127.0.0.1:${cable.port}`, ...LOGIN },
        store: {
          ...(disk === undefined ? {} : { folder: join(disk.folder, 'data') }),
          ...(influx === undefined ? {} : { influx: { url: influx.url, requestTimeoutS: 2 } }),
        },
      },
      env,
    );
    const folder = disk === undefined ? join(monitor.folder, 'data') : join(disk.folder, 'data');
    const url = `mqtt://127.0.0.1:${broker?.port ?? listenPort}`;
    const house = new FaultHouse(
      monitor,
      folder,
      url,
      udpPort,
      { page: pagePort, broker: listenPort },
      broker,
      cable,
      influx,
      disk,
    );
    await house.#begin();
    return house;
  }

  async #begin(): Promise<void> {
    this.#timer = setInterval(() => {
      const value = 18 + (this.#number % 100) / 100;
      this.#number += 1;
      this.#feed.send(JSON.stringify(Array(PROBE_COUNT).fill(value)), this.udpPort, '127.0.0.1');
    }, FEED_EVERY_MS);
    this.#phone = await listener(this.phoneUrl, [topics.reply('+'), topics.testCall], {
      clientId: 'phone-anna',
      clean: false,
      reconnectPeriod: 100,
      connectTimeout: 2_000,
      keepalive: 5,
      username: LOGIN.user,
      password: LOGIN.password,
    });
    this.#phone.client.on('error', () => undefined);
    this.#phone.client.on('message', (topic, payload) => this.#hear(topic, payload.toString()));
  }

  #hear(topic: string, text: string): void {
    if (topic === topics.testCall) {
      const { test, id } = JSON.parse(text) as { readonly test: string; readonly id: string };
      const asked = this.#tests.get(test);
      if (asked === undefined) return;
      asked.ids.add(id);
      asked.heardAtMs ??= performance.now();
      return;
    }
    const answer = answerSchema.parse(JSON.parse(text));
    if (!answer.ok || answer.kept === false) return;
    if (this.#notes.has(answer.ref)) this.#notes.set(answer.ref, true);
    const test = this.#tests.get(answer.ref);
    if (test !== undefined) test.answered = true;
  }

  /** A note, by a phone that sends it until the broker has it. */
  note(): string {
    this.#number += 1;
    const ref = `n${this.#number}`;
    this.#notes.set(ref, false);
    this.#phone?.send(topics.commandRef(ref), JSON.stringify({ do: 'note', text: `note ${ref}` }));
    return ref;
  }

  /** A test call: it goes through the same outbox as any other, and no alarm is needed for it. */
  call(): void {
    this.#number += 1;
    const ref = `c${this.#number}`;
    this.#tests.set(ref, { askedAtMs: performance.now(), answered: false, ids: new Set() });
    this.#phone?.send(topics.commandRef(ref), JSON.stringify({ do: 'test-call' }));
  }

  /** The monitor answers a note; seconds that it took, undefined when it did not within the patience. */
  async answers(patienceMs: number): Promise<number | undefined> {
    const beganMs = performance.now();
    while (performance.now() - beganMs < patienceMs) {
      const ref = this.note();
      for (let n = 0; n < 20; n++) {
        await sleep(50);
        if (this.#notes.get(ref) === true) return (performance.now() - beganMs) / 1000;
      }
    }
    return undefined;
  }

  /** Looks into the store from outside, as far as it can be read now: what was seen there must be there for good. */
  look(): void {
    for (const key of this.#stored("SELECT observed_at_ms || '/' || series_id FROM reading"))
      this.#seen.add(key);
  }

  /** Every test call that was asked for and answered is heard, or the patience ends. */
  async calm(patienceMs: number): Promise<void> {
    const untilMs = performance.now() + patienceMs;
    const isWaiting = () => [...this.#tests.values()].some(({ answered, ids }) => answered && ids.size === 0);
    while (isWaiting() && performance.now() < untilMs) await sleep(100);
  }

  /** Ends the program in good order and counts. */
  async count(): Promise<Counts> {
    await this.monitor.end('SIGTERM');
    const notes = this.#stored("SELECT json_extract(body, '$.text') FROM fact WHERE kind = 'note'");
    const answered = [...this.#notes].filter(([, isAnswered]) => isAnswered).map(([ref]) => `note ${ref}`);
    const readings = new Set(this.#stored("SELECT observed_at_ms || '/' || series_id FROM reading"));
    const ours = notes.filter((text) => /^note n\d+$/.test(text));
    const due = [...this.#tests.values()].filter((test) => test.answered);
    return {
      readingsSeen: this.#seen.size,
      readingsFound: [...this.#seen].filter((key) => readings.has(key)).length,
      notesAnswered: answered.length,
      notesFound: answered.filter((text) => notes.includes(text)).length,
      notesDoubled: ours.length - new Set(ours).size,
      callsDue: due.length,
      callsMade: due.filter(({ ids }) => ids.size > 0).length,
      callsDoubled: due.filter(({ ids }) => ids.size > 1).length,
      slowestCallS: Math.max(
        0,
        ...due.map(({ heardAtMs, askedAtMs }) => ((heardAtMs ?? askedAtMs) - askedAtMs) / 1000),
      ),
    };
  }

  #stored(question: string): readonly string[] {
    const path = join(this.folder, 'drybell.db');
    if (!existsSync(path)) return [];
    let db: Database.Database | undefined;
    try {
      db = new Database(path, { readonly: true, fileMustExist: true, timeout: 200 });
      return db.prepare<[], string>(question).pluck().all();
    } catch (cause) {
      if (!(cause instanceof Database.SqliteError)) throw cause;
      return [];
    } finally {
      db?.close();
    }
  }

  async close(): Promise<void> {
    clearInterval(this.#timer);
    this.#feed.close();
    await this.#phone?.close();
    await this.monitor.stop();
    await this.cable?.close();
    await this.broker?.close();
    await this.influx?.stop();
    this.disk?.unmount();
  }
}
