import { createSocket } from 'node:dgram';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { answerSchema } from '../../shared/wire/command.js';
import { farmTopics } from '../../shared/wire/topics.js';
import { Database, SqliteError } from '../../src/host/disk/sqlite.js';
import { STEPS_PER_UNIT } from '../../src/store/both/kept-precision.js';
import { freePort, RunningMonitor } from '../helpers/running-monitor.js';
import { type Listener, listener } from '../messaging/listener.js';
import { LOGIN } from '../messaging/mosquitto.js';
import type { Influxd } from '../store/helpers/influxd.js';
import { BOARD_VOLTS } from './board-port.js';
import {
  boardConfig,
  closeParts,
  farConfig,
  folderOf,
  type HouseParts,
  type Need,
  openParts,
} from './house-parts.js';

/** A farm's probes; with a reading of each every two seconds the store writes every six. */
const PROBE_COUNT = 20;
const FEED_EVERY_MS = 400;
const FARM = 'alder-row';
const topics = farmTopics(FARM);
/** A step of the board's converter is 4.9 mV; a mean of ten is nearer. */
const TRUE_WITHIN_V = 0.02;
/** Of QARTOD: good. */
const GOOD_FLAG = 1;
const KEPT =
  "SELECT r.observed_at_ms || '/' || s.probe_id FROM reading r JOIN probe_series s ON s.id = r.series_id";

export interface Counts {
  readonly readingsSeen: number;
  readonly readingsFound: number;
  /** Of the board's, taken for good though the board never stood there. */
  readonly readingsFalse: number;
  readonly notesAnswered: number;
  readonly notesFound: number;
  readonly notesDoubled: number;
  readonly callsDue: number;
  readonly callsMade: number;
  readonly callsDoubled: number;
  readonly slowestCallS: number;
  /** How often the program ended though nobody had ended it. */
  readonly crashes: number;
}

interface Test {
  readonly askedAtMs: number;
  answered: boolean;
  readonly ids: Set<string>;
  heardAtMs?: number;
}

/** Readings that InfluxDB has, as the store's keys; none while it has no database yet. */
async function keysIn(influx: Influxd): Promise<ReadonlySet<string>> {
  const rows = await influx
    .client('drybell')
    .query<{ time: { getNanoTime(): string }; probe: string }>('SELECT rawValue, probe FROM reading')
    .catch(() => []);
  return new Set(rows.map(({ time, probe }) => `${time.getNanoTime().slice(0, -6)}/${probe}`));
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

  /** How long the machine has been suspended, s. */
  sleptS = 0;

  private constructor(
    readonly monitor: RunningMonitor,
    readonly folder: string,
    readonly parts: HouseParts,
    readonly ports: { readonly page: number; readonly broker: number; readonly udp: number },
  ) {}

  /** Undefined where this machine lacks what is needed. */
  static async open(needs: readonly Need[], env: NodeJS.ProcessEnv = {}): Promise<FaultHouse | undefined> {
    const parts = await openParts(needs);
    if (parts === undefined) return undefined;
    const ports = { udp: await freePort(), broker: await freePort(), page: await freePort() };
    const delivered = Array.from({ length: PROBE_COUNT }, (_, number) => ({
      id: `temp-${number}`,
      kind: 'air-temperature',
      bench: 'south',
      hookup: { part: 'delivered', udpPort: ports.udp, path: `/${number}`, unit: 'Cel', staleAfterS: 10 },
    }));
    const { boards, probes } = boardConfig(parts.board);
    const { messaging, influx } = farConfig(parts, ports.broker);
    const folder = folderOf(parts);
    const monitor = await RunningMonitor.start(
      {
        timeZone: 'Europe/Berlin',
        cadenceS: 2,
        page: { listenPort: ports.page },
        boards,
        probes: [...delivered, ...probes],
        trays: [{ id: 't1', bench: 'south', blockSideMm: 38, blockCount: 72 }],
        messaging,
        store: { ...(folder === undefined ? {} : { folder }), ...influx },
      },
      env,
    );
    const house = new FaultHouse(monitor, folder ?? join(monitor.folder, 'data'), parts, ports);
    await house.#begin();
    return house;
  }

  async #begin(): Promise<void> {
    this.#timer = setInterval(() => {
      const value = 18 + (this.#number % 100) / 100;
      this.#number += 1;
      this.#feed.send(JSON.stringify(Array(PROBE_COUNT).fill(value)), this.ports.udp, '127.0.0.1');
    }, FEED_EVERY_MS);
    const broker = `mqtt://127.0.0.1:${this.parts.broker?.port ?? this.ports.broker}`;
    this.#phone = await listener(broker, [topics.reply('+'), topics.testCall], {
      clientId: 'phone-anna',
      clean: false,
      reconnectPeriod: 100,
      connectTimeout: 60_000,
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
    for (const key of this.#stored(KEPT)) this.#seen.add(key);
  }

  /** The board's probes are read again; seconds that it took, undefined when they were not within the patience. */
  async readsBoard(patienceMs: number): Promise<number | undefined> {
    const count = () =>
      Number(this.#stored(`SELECT count(*) FROM (${KEPT} WHERE s.probe_id GLOB 'moist-*')`)[0] ?? 0);
    const before = count();
    const beganMs = performance.now();
    while (performance.now() - beganMs < patienceMs) {
      if (count() >= before + BOARD_VOLTS.length) return (performance.now() - beganMs) / 1000;
      await sleep(200);
    }
    return undefined;
  }

  /** Everything that InfluxDB has of what was seen, as soon as it has all of it or the patience ends. */
  async #inInflux(patienceMs: number): Promise<ReadonlySet<string> | undefined> {
    const { influx } = this.parts;
    if (influx === undefined) return undefined;
    const untilMs = performance.now() + patienceMs;
    for (;;) {
      const found = await keysIn(influx);
      if ([...this.#seen].every((key) => found.has(key)) || performance.now() > untilMs) return found;
      await sleep(500);
    }
  }

  #falseReadings(): number {
    return BOARD_VOLTS.reduce((sum, volts, channel) => {
      const [least, most] = [volts - TRUE_WITHIN_V, volts + TRUE_WITHIN_V].map((v) => v * STEPS_PER_UNIT.V);
      const wrong = this.#stored(`SELECT count(*) FROM reading r JOIN probe_series s ON s.id = r.series_id
        JOIN remark m ON m.id = r.remark_id WHERE s.probe_id = 'moist-${channel}' AND m.flag = ${GOOD_FLAG}
        AND r.raw_steps NOT BETWEEN ${least} AND ${most}`);
      return sum + Number(wrong[0] ?? 0);
    }, 0);
  }

  /** Every test call that was asked for and answered is heard, or the patience ends. */
  async calm(patienceMs: number): Promise<void> {
    const untilMs = performance.now() + patienceMs;
    const isWaiting = () => [...this.#tests.values()].some(({ answered, ids }) => answered && ids.size === 0);
    while (isWaiting() && performance.now() < untilMs) await sleep(100);
  }

  /** Ends the program in good order and counts. */
  async count(patienceMs: number): Promise<Counts> {
    const inInflux = await this.#inInflux(patienceMs);
    await this.monitor.end('SIGTERM');
    const notes = this.#stored("SELECT json_extract(body, '$.text') FROM fact WHERE kind = 'note'");
    const answered = [...this.#notes].filter(([, isAnswered]) => isAnswered).map(([ref]) => `note ${ref}`);
    const readings = new Set(this.#stored(KEPT));
    const ours = notes.filter((text) => /^note n\d+$/.test(text));
    const due = [...this.#tests.values()].filter((test) => test.answered);
    return {
      readingsSeen: this.#seen.size,
      readingsFound: [...this.#seen].filter((key) => readings.has(key) && inInflux?.has(key) !== false)
        .length,
      readingsFalse: this.#falseReadings(),
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
      crashes: this.monitor.crashes,
    };
  }

  #stored(question: string): readonly string[] {
    const path = join(this.folder, 'drybell.db');
    if (!existsSync(path)) return [];
    let db: Database | undefined;
    try {
      db = new Database(path, { readonly: true, fileMustExist: true, timeout: 200 });
      return db.prepare<[], string>(question).pluck().all();
    } catch (cause) {
      if (!(cause instanceof SqliteError)) throw cause;
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
    await closeParts(this.parts);
  }
}
