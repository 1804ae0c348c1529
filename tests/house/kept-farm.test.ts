import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { farmConfigSchema } from '../../shared/config/farm.js';
import { createFarmParts, type FarmParts } from '../../src/cli/running/house-parts/farm-parts.js';
import { openHouse } from '../../src/cli/running/house-parts/house.js';
import { loadFarm, loadTurn } from '../../src/cli/running/house-parts/kept-farm.js';
import { modelDocument } from '../../src/drying/whole/snapshot.js';
import type { Fact } from '../../src/monitor/ports/facts.js';
import { turnDocument } from '../../src/monitor/ports/turn.js';
import { deskDocument } from '../../src/watering/desk/desk-state.js';
import { createMemoryStore } from '../helpers/memory-store.js';

/** States as each version wrote them. A new version's is written by running this with DRYBELL_KEEP_STATES=1; then it stays. */
const KEPT = join(import.meta.dirname, 'kept');
const HOUR_MS = 3_600_000;
const START_MS = Date.parse('2026-04-17T04:00:00Z');
const NOW_MS = START_MS + 24 * HOUR_MS;

const config = farmConfigSchema.parse({
  farm: 'alder-row',
  timeZone: 'Europe/Berlin',
  cadenceS: 600,
  benches: [{ id: 'south' }],
  trays: [
    { id: 't1', bench: 'south', blockSideMm: 19, blockCount: 280 },
    { id: 't2', bench: 'south', blockSideMm: 51, blockCount: 48 },
  ],
  probes: [
    { id: 'temp', kind: 'air-temperature', bench: 'south' },
    { id: 'moist', kind: 'block-moisture', tray: 't1' },
  ],
});

/** A store that has a day of the farm's facts, with t3 entered late and t2 ended, and the states that the day left. */
async function lived() {
  const store = createMemoryStore();
  const farm = createFarmParts(config, { startMs: START_MS, drive: 'live' });
  const { pipeline } = farm;
  const at = new Date(START_MS).toISOString();
  for (const { id, ...fields } of config.trays)
    pipeline.trayEvent({ at, tray: id, event: 'new', ...fields }, START_MS);
  for (let atMs = START_MS; atMs < NOW_MS; atMs += 600_000) {
    pipeline.advanceTo(atMs - 1);
    pipeline.sample({ probeId: 'temp', observedAtMs: atMs, rawValue: 24 });
    pipeline.sample({
      probeId: 'moist',
      observedAtMs: atMs,
      rawValue: 1.4 + (0.02 * (atMs - START_MS)) / HOUR_MS,
    });
    if (atMs === START_MS + HOUR_MS) pipeline.command({ do: 'watered', tray: 't2' }, 'w1');
    if (atMs === START_MS + 3 * HOUR_MS) {
      const fields = { bench: 'south', blockSideMm: 38, blockCount: 72 };
      pipeline.command({ do: 'new-tray', tray: 't3', ...fields }, 'n1');
      pipeline.command({ do: 'attach', probe: 'moist', tray: 't3' }, 'a1');
      pipeline.command({ do: 'end', tray: 't2' }, 'e1');
    }
    await store.keep(pipeline.takeFacts());
  }
  for (const [name, { version }, state] of [
    ['desk', deskDocument, farm.desk.snapshot()],
    ['model', modelDocument, farm.model.snapshot()],
  ] as const) {
    await store.saveState(name, state);
    const file = join(KEPT, `${name}-${version}.json`);
    if (process.env['DRYBELL_KEEP_STATES'] === '1' && !existsSync(file))
      writeFileSync(file, `${JSON.stringify(state)}\n`);
  }
  return { store, farm };
}

const fixture = (name: string): unknown => JSON.parse(readFileSync(join(KEPT, name), 'utf8'));

/** The farm goes on: what people tell is done, and every tray has a forecast. */
function goesOn({ pipeline, desk }: FarmParts, fromMs: number): void {
  const [first] = desk.trays();
  for (let atMs = fromMs; atMs <= fromMs + 3 * HOUR_MS; atMs += 600_000) {
    pipeline.advanceTo(atMs - 1);
    pipeline.sample({ probeId: 'temp', observedAtMs: atMs, rawValue: 22 });
  }
  expect(pipeline.command({ do: 'watered', tray: first?.id ?? '' }, 'w9').ok).toBe(true);
  pipeline.advanceTo(fromMs + 5 * HOUR_MS);
  const told = pipeline.takeFacts().flatMap((fact) => (fact.kind === 'forecast' ? [fact.forecast] : []));
  for (const { id } of desk.trays()) {
    const last = told.findLast(({ tray }) => tray === id);
    expect(last?.waterContentM3PerM3).toBeGreaterThan(0);
    expect(last?.hoursToRefill.p10).not.toBeUndefined();
  }
}

describe('states of every version that was', () => {
  it.each([
    ['desk', deskDocument.version],
    ['model', modelDocument.version],
  ])('%s: has a file kept from each', (name, version) => {
    const kept = readdirSync(KEPT).filter((file) => file.startsWith(`${name}-`));
    expect(kept.sort()).toEqual(Array.from({ length: version }, (_, n) => `${name}-${n + 1}.json`));
  });

  const kept = readdirSync(KEPT);
  it.each(kept)('%s opens the farm, brought up or built anew and said', async (file) => {
    const { store, farm } = await lived();
    const name = file.startsWith('desk') ? 'desk' : 'model';
    await store.saveState(name, fixture(file));
    const { troubles, ...states } = await loadFarm(config, store, NOW_MS);
    const version = Number(/\d+/.exec(file)?.[0]);
    const kind = name === 'desk' ? deskDocument : modelDocument;
    const canBeRead = version === kind.version || kind.steps[version] !== undefined;
    expect(troubles).toHaveLength(canBeRead ? 0 : 1);
    const opened = createFarmParts(config, {
      startMs: NOW_MS,
      drive: 'live',
      deskState: states.desk,
      modelState: states.model,
    });
    if (!canBeRead || name === 'model')
      expect(opened.desk.trays().map(({ id }) => id)).toEqual(farm.desk.trays().map(({ id }) => id));
    goesOn(opened, NOW_MS);
  });
});

/** Desks of version 1 from before its keys grew: written by the desk as it first was, before an absence was remembered, and with it. */
const EARLIER = join(import.meta.dirname, 'kept-earlier');

describe('earlier shapes of the first version', () => {
  it.each(readdirSync(EARLIER))('%s opens as it was and goes on', (file) => {
    const deskState: unknown = JSON.parse(readFileSync(join(EARLIER, file), 'utf8'));
    const opened = createFarmParts(config, { startMs: NOW_MS, drive: 'live', deskState });
    expect(opened.desk.trays().map(({ id, blockSideMm }) => [id, blockSideMm])).toEqual([
      ['t1', 19],
      ['t3', 76],
    ]);
    expect(opened.desk.standing().awayUntilMs).toBe(NOW_MS + 28 * HOUR_MS);
    const late = opened.desk.standing().alarms.filter(({ state }) => state === 'shelved');
    expect(late).toMatchObject([{ kind: 'refill', tray: 't1' }]);
    expect(opened.pipeline.command({ do: 'unshelve', kind: 'refill', of: 't1' }, 'u1').ok).toBe(true);
    goesOn(opened, NOW_MS);
  });
});

describe('a state that cannot be read', () => {
  const damages: readonly [string, unknown][] = [
    ['of a version to come', { version: 99 }],
    ['of no version', { trays: [] }],
    ['cut off', { version: deskDocument.version, memory: [] }],
    ['no object', 'rust'],
  ];

  it.each(damages)(
    '%s: desk and model are built anew from events and readings, as they were',
    async (_, state) => {
      const { store, farm } = await lived();
      await store.saveState('desk', state);
      const { troubles, ...states } = await loadFarm(config, store, NOW_MS);
      expect(troubles).toEqual([
        expect.stringMatching(/^The desk's state .*"desk set aside 2026-04-18T.*built anew from \d+ events/),
      ]);
      expect(await store.loadState('desk')).toBeUndefined();
      const opened = createFarmParts(config, {
        startMs: NOW_MS,
        drive: 'live',
        deskState: states.desk,
        modelState: states.model,
      });
      expect(opened.desk.trays()).toEqual(farm.desk.trays());
      expect(opened.desk.probeTrays()).toEqual(farm.desk.probeTrays());
      // t3 carries the probe; whether t1 was watered at a round that nobody spoke of is guessed anew.
      const waterOf = ({ model }: FarmParts) => model.explain('t3').lines[0]?.value ?? 0;
      expect(waterOf(opened)).toBeCloseTo(waterOf(farm), 2);
      goesOn(opened, NOW_MS);
    },
  );

  it('the model beside a desk that can be read: the desk stays as it is, and the first command finds every tray', async () => {
    const { store, farm } = await lived();
    await store.saveState('model', { version: 2, memory: {} });
    const { troubles, ...states } = await loadFarm(config, store, NOW_MS);
    expect(troubles).toEqual([expect.stringContaining("The model's state is of version 2")]);
    expect(JSON.stringify(states.desk)).toBe(JSON.stringify(farm.desk.snapshot()));
    goesOn(
      createFarmParts(config, {
        startMs: NOW_MS,
        drive: 'live',
        deskState: states.desk,
        modelState: states.model,
      }),
      NOW_MS,
    );
  });

  it('a model that knows fewer trays than the desk is told of the others', async () => {
    const { farm } = await lived();
    const other = createFarmParts(config, { startMs: START_MS, drive: 'live' });
    goesOn(
      createFarmParts(config, {
        startMs: NOW_MS,
        drive: 'live',
        deskState: farm.desk.snapshot(),
        modelState: other.model.snapshot(),
      }),
      NOW_MS,
    );
  });

  it('the last turn: is set aside and said; one from before turns had a version is told', async () => {
    const store = createMemoryStore();
    await store.saveState('turn', { id: 'a-1', facts: [] });
    expect((await loadTurn(store)).turn).toEqual({ id: 'a-1', facts: [] });
    await store.saveState('turn', { version: turnDocument.version, id: 7 });
    const { turn, troubles } = await loadTurn(store);
    expect(turn).toBeUndefined();
    expect(troubles).toEqual([expect.stringMatching(/^The last turn's messages is not whole/)]);
  });

  it('is said once: in the journal, to who listens, and in the status', async () => {
    const { store } = await lived();
    await store.saveState('model', 'rust');
    const told: Fact[] = [];
    const open = () =>
      openHouse({
        config,
        drive: 'live',
        clock: { nowMs: () => NOW_MS, monotonicMs: () => 0, sleep: () => Promise.resolve() },
        clockSpeed: 1,
        reader: {
          sample: async () => [],
          health: () => [],
          showCall: async () => undefined,
          onAcknowledge: () => undefined,
          close: async () => undefined,
        },
        store,
        publisher: {
          tell: async (facts) => void told.push(...facts),
          onCommand: () => undefined,
          health: () => ({ ok: true, reason: 'ok' }),
          address: () => '',
          close: async () => undefined,
        },
      });
    const house = await open();
    expect(house.troubles).toHaveLength(1);
    await house.monitor.close();
    const again = await open();
    expect(again.troubles).toEqual([]);
    const [text] = house.troubles;
    const notes = await store.facts(['note'], { fromMs: 0, toMs: NOW_MS + 1 }, 9);
    expect(notes).toEqual([expect.objectContaining({ said: ['asItIs', text], by: 'monitor' })]);
    expect(told.filter(({ kind }) => kind === 'note')).toEqual(notes);
    expect(told).toContainEqual(
      expect.objectContaining({ kind: 'status', status: expect.objectContaining({ troubles: [text] }) }),
    );
  });
});
