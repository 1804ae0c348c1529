import { type BoardConfig, boardSchema } from '../../../shared/config/kit/hookup.js';
import { type ProbeConfig, probeSchema } from '../../../shared/config/kit/probes.js';
import type { DetailedSample } from '../../../src/board/station/detailed-sample.js';
import { createProbeReader } from '../../../src/board/station/probe-reader.js';
import type { Component } from '../../../src/board/wiring/cards/component.js';
import { planBoard } from '../../../src/board/wiring/plan/wiring-plan.js';
import { BOARD_PINS } from '../../../src/worlds/demo/virtual-board/board-pins.js';
import { createVirtualBoard } from '../../../src/worlds/demo/virtual-board/virtual-board.js';
import { netlistOf, type Part } from './netlist.js';
import { type Element, solve } from './solve.js';

export const R25 = 10_000;
export const BETA = 3950;
const zeroK = 273.15;
export const ntcOhm = (temperatureC: number, r25 = R25, beta = BETA): number =>
  r25 * Math.exp(beta * (1 / (temperatureC + zeroK) - 1 / (25 + zeroK)));
export const ldrOhm = (lx: number): number => 15_000 * (lx / 10) ** -0.7;
const outOhm = 36_000;

export interface KitOptions {
  readonly probePower?: object;
  readonly reference?: object;
  readonly blades: number;
  readonly cableM: number;
  readonly light?: boolean;
  /** Of the thermistor at 25 °C, and of the resistor beside it. */
  readonly beadOhm?: number;
}

export interface Truth {
  readonly railVolts: number;
  readonly temperatureC: number;
  readonly lx: number;
  readonly bladeVolts: number;
  readonly pinOhm?: number;
  readonly spread?: (component: Component) => number;
  readonly ntc?: { readonly r25: number; readonly beta: number };
  /** Counts that the converter is off. */
  readonly offCounts?: number;
  readonly faults?: readonly Element[];
  readonly cut?: readonly string[];
}

/** A kit of one thermistor, one photo-resistor and some blades, with cables of one length. */
export function buildKit({
  blades,
  cableM,
  light = true,
  beadOhm = R25,
  ...board
}: KitOptions): Promise<Kit> {
  const config = boardSchema.parse({
    id: 'b1',
    sampleCount: 1,
    ...board,
    multiplexers: blades > 0 ? [{ id: 'mux1', input: 'A0', selectPins: [2, 3, 4, 5] }] : [],
  });
  const hook = (more: object) => ({ board: 'b1', cableM, ...more });
  const probes: ProbeConfig[] = [
    {
      id: 'temp',
      kind: 'air-temperature',
      bench: 'south',
      hookup: hook({
        part: 'thermistor',
        input: 'A1',
        fixedOhm: beadOhm,
        curve: { resistanceAt25Ohm: beadOhm, betaK: BETA },
      }),
    },
    ...(light
      ? [
          {
            id: 'light',
            kind: 'light',
            bench: 'south',
            hookup: hook({ part: 'photo-resistor', input: 'A2', fixedOhm: 330, endOhm: 47_000 }),
          },
        ]
      : []),
    ...Array.from({ length: blades }, (_, n) => ({
      id: `m${n}`,
      kind: 'block-moisture',
      hookup: hook({ part: 'capacitive-moisture', input: `mux1.${n}` }),
    })),
  ].map((probe) => probeSchema.parse(probe));
  return standUp(config, probes);
}

/** What hangs on a board's analog inputs in these surroundings, by card. */
function partsOf(probes: readonly ProbeConfig[], truth: Truth): Map<string, Part> {
  const { temperatureC, lx, bladeVolts, ntc } = truth;
  return new Map(
    probes.flatMap(({ id, hookup }): [string, Part][] => {
      const between = (ohm: number): [string, Part][] => [
        [id, { kind: 'between', ends: [`${id}:OUT`, `${id}:GND`], ohm }],
      ];
      if (hookup?.part === 'capacitive-moisture') return [[id, { kind: 'blade', volts: bladeVolts, outOhm }]];
      if (hookup?.part === 'photo-resistor') return between(ldrOhm(lx));
      if (hookup?.part === 'thermistor' && 'betaK' in hookup.curve) {
        const { resistanceAt25Ohm, betaK } = hookup.curve;
        return between(ntcOhm(temperatureC, ntc?.r25 ?? resistanceAt25Ohm, ntc?.beta ?? betaK));
      }
      return [];
    }),
  );
}

/** One board as configured, drawn, solved, and its analog probes read by the product through a board that converts the solved voltages. */
export async function standUp(config: BoardConfig, all: readonly ProbeConfig[]) {
  const { model } = config;
  if (model !== 'uno' && model !== 'nano')
    throw new RangeError(`there is no virtual board of model ${model}`);
  const plan = planBoard(config, all);
  const probes = all.filter(
    ({ hookup }) => hookup !== undefined && 'input' in hookup && hookup.board === config.id,
  );
  let rail = 5;
  let off = 0;
  let nodes: ReadonlyMap<string, number> = new Map();
  const nodeAt = (channel: number, outputs: ReadonlyMap<number, boolean>): string => {
    const multiplexer = config.multiplexers.find(({ input }) => input === `A${channel}`);
    if (multiplexer === undefined) return `A${channel}`;
    const selected = multiplexer.selectPins.reduce(
      (sum, pin, bit) => sum + (outputs.get(pin) === true ? 1 << bit : 0),
      0,
    );
    return `${multiplexer.id}.${selected}`;
  };
  const virtual = createVirtualBoard({
    pins: BOARD_PINS[model],
    supplyVolts: () => rail,
    i2cParts: [],
    analogVolts: (channel, outputs) => (nodes.get(nodeAt(channel, outputs)) ?? 0) + (off * rail) / 1024,
  });
  const clock = { nowMs: () => 0, monotonicMs: () => 0, sleep: async () => undefined };
  const reader = createProbeReader({
    boards: [config],
    probes,
    clock,
    openTransport: async () => virtual,
    random: () => 0,
  });
  while (reader.health()[0]?.state !== 'ready') await new Promise((resolve) => setTimeout(resolve, 5));
  return {
    config,
    probes,
    /** Solves the drawing for these surroundings. */
    settle(truth: Truth): void {
      rail = truth.railVolts;
      off = truth.offCounts ?? 0;
      nodes = solve(netlistOf(plan, { pinOhm: 30, ...truth, parts: partsOf(probes, truth) }));
    },
    node: (name: string) => nodes.get(name) ?? Number.NaN,
    async read(): Promise<ReadonlyMap<string, DetailedSample>> {
      const samples = await reader.sample(new AbortController().signal);
      return new Map(samples.map((sample) => [sample.probeId, sample]));
    },
    close: () => reader.close(),
  };
}
export type Kit = Awaited<ReturnType<typeof standUp>>;
