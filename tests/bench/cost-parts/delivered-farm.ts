import { connect } from 'mqtt';

const TRAYS_PER_BENCH = 20;
const DAY_MS = 86_400_000;
const HOUR_MS = 3_600_000;
const POINTS = [
  { volts: 2.21, waterContentM3PerM3: 0.155 },
  { volts: 1.33, waterContentM3PerM3: 0.581 },
];
const FULL_V = 1.36;
const VOLTS_PER_H = 0.03;
const NOISE_V = 0.002;

/** A configuration takes 500 probes: trays beyond have none. */
const MOST_PROBED = 300;

/** A farm whose probes all come by MQTT from nodes: a moisture probe a tray, temperature and humidity a bench. */
export function deliveredFarm(trayCount: number) {
  const benches = Array.from({ length: Math.ceil(trayCount / TRAYS_PER_BENCH) }, (_, n) => `b${n + 1}`);
  const trays = Array.from({ length: trayCount }, (_, n) => ({
    id: `t${n + 1}`,
    bench: `b${Math.floor(n / TRAYS_PER_BENCH) + 1}`,
    blockSideMm: 38,
    blockCount: 72,
    crop: 'leek',
  }));
  const part = (id: string) => ({ part: 'delivered', topic: `node/${id}` });
  return {
    benches: benches.map((id) => ({ id })),
    trays,
    probes: [
      ...benches.flatMap((bench) => [
        { id: `temp-${bench}`, kind: 'air-temperature', bench, hookup: part(`temp-${bench}`) },
        { id: `rh-${bench}`, kind: 'relative-humidity', bench, hookup: part(`rh-${bench}`) },
      ]),
      ...trays.slice(0, MOST_PROBED).map(({ id }) => ({
        id: `moist-${id}`,
        kind: 'block-moisture',
        tray: id,
        calibration: POINTS,
        hookup: part(`moist-${id}`),
      })),
    ],
  };
}

/** What a probe shows at an instant: a dry-down of a day, or a day's swing. */
function shownBy(probe: string, atMs: number): number {
  const intoDay = (atMs % DAY_MS) / DAY_MS;
  if (probe.startsWith('temp-')) return 20 + 5 * Math.sin(2 * Math.PI * intoDay) + Math.random() / 10;
  if (probe.startsWith('rh-')) return 60 - 15 * Math.sin(2 * Math.PI * intoDay) + Math.random() / 2;
  return FULL_V + VOLTS_PER_H * ((atMs % DAY_MS) / HOUR_MS) + NOISE_V * Math.random();
}

/** Nodes that send all readings at once, again and again, to every broker that listens. */
export class Nodes {
  readonly #clients: ReturnType<typeof connect>[];
  #timer: NodeJS.Timeout | undefined;
  sentCount = 0;

  constructor(
    private readonly farm: ReturnType<typeof deliveredFarm>,
    addresses: readonly string[],
  ) {
    this.#clients = addresses.map((address) => connect(address));
  }

  send(): void {
    const atMs = Date.now();
    for (const { id } of this.farm.probes) {
      const value = shownBy(id, atMs).toFixed(4);
      for (const client of this.#clients) client.publish(`node/${id}`, value, { qos: 1 });
      this.sentCount += 1;
    }
  }

  start(everyMs: number): void {
    this.send();
    this.#timer = setInterval(() => this.send(), everyMs);
  }

  async stop(): Promise<void> {
    clearInterval(this.#timer);
    await Promise.all(this.#clients.map((client) => client.endAsync()));
  }
}
