import type { BoardConfig } from '../../../../shared/config/kit/hookup.js';
import type { ProbeConfig } from '../../../../shared/config/kit/probes.js';
import { createRandomSource } from '../virtual-bench/air/random-source.js';
import type { VirtualBench } from '../virtual-bench/virtual-bench.js';
import { BOARD_PINS } from './board-pins.js';
import type { I2cPart } from './i2c-bus.js';
import { photoResistorVolts, phototransistorVolts, thermistorVolts } from './part-volts.js';
import { createSht31Part } from './sht31-part.js';
import {
  type AnalogHookup,
  createSupply,
  fairSupply,
  type SupplyPlan,
  type VirtualSupply,
} from './supply.js';
import type { VirtualWiring } from './virtual-board.js';

/** What the wires of one board lead to. */
export interface BoardWires {
  readonly board: BoardConfig;
  /** All probes of the farm; those on other boards are left out. */
  readonly probes: readonly ProbeConfig[];
  /** Knows a probe by the id that the configuration gives it. */
  readonly bench: VirtualBench;
  /** Farm time: the bench is moved to it whenever a probe is read. */
  readonly nowMs: () => number;
  /** How good or bad the house's supply is; a fair one when absent. */
  readonly supply?: SupplyPlan;
}

function analogVolts(
  hookup: AnalogHookup,
  value: number,
  supply: VirtualSupply,
  outputs: ReadonlyMap<number, boolean>,
): number {
  const topVolts = supply.topVolts(outputs);
  switch (hookup.part) {
    case 'capacitive-moisture':
      return topVolts > 0 ? value : 0;
    case 'thermistor':
      return thermistorVolts(hookup, value + supply.selfHeatingK(hookup, topVolts), topVolts);
    case 'photo-resistor':
      return photoResistorVolts(hookup, value, topVolts);
    case 'phototransistor':
      return phototransistorVolts(hookup, value, topVolts);
  }
}

const channelOf = (input: string): number => Number(input.slice(1));

/**
 * Wires the virtual bench's probes to a virtual board as the configuration's hookups say. RangeError for parts and
 * boards that it cannot play: it is made for the demo's kit (uno or nano; analog parts and SHT31, no multiplexer).
 */
export function wireBoard({
  board,
  probes,
  bench,
  nowMs,
  supply: plan = fairSupply,
}: BoardWires): VirtualWiring {
  if (board.model !== 'uno' && board.model !== 'nano')
    throw new RangeError(`the virtual board plays an uno or a nano, not ${board.model}`);
  const channels = new Map<number, { readonly id: string; readonly hookup: AnalogHookup }>();
  const climate = new Map<number, { temperature?: string; humidity?: string }>();
  for (const probe of probes) {
    const { hookup } = probe;
    if (hookup === undefined || !('board' in hookup) || hookup.board !== board.id) continue;
    if (hookup.part === 'sht31') {
      const address = Number(hookup.address);
      const part = climate.get(address) ?? {};
      climate.set(
        address,
        probe.kind === 'air-temperature'
          ? { ...part, temperature: probe.id }
          : { ...part, humidity: probe.id },
      );
    } else if ('input' in hookup && hookup.input.startsWith('A')) {
      channels.set(channelOf(hookup.input), { id: probe.id, hookup });
    } else {
      throw new RangeError(`the virtual board cannot play the part of probe ${probe.id}: ${hookup.part}`);
    }
  }
  const readNow = (id: string): number | undefined => {
    bench.step(Math.max(nowMs(), bench.nowMs()));
    return bench.readProbe(id);
  };
  const i2cParts = [...climate].map(
    ([address, { temperature, humidity }]): I2cPart =>
      createSht31Part(address, () => {
        const temperatureC = temperature === undefined ? 20 : readNow(temperature);
        const relativeHumidityPct = humidity === undefined ? 50 : readNow(humidity);
        return temperatureC === undefined || relativeHumidityPct === undefined
          ? undefined
          : { temperatureC, relativeHumidityPct };
      }),
  );
  const hookups = [...channels.values()].map(({ hookup }) => hookup);
  const supply = createSupply(board, hookups, plan, createRandomSource(nowMs()).fork(board.id));
  const { probePower, reference } = board;
  const volts = (channel: number, outputs: ReadonlyMap<number, boolean>): number | undefined => {
    if (reference !== undefined && channelOf(reference.input) === channel) return reference.volts;
    if (probePower?.topInput !== undefined && channelOf(probePower.topInput) === channel)
      return supply.topVolts(outputs);
    const wired = channels.get(channel);
    const value = wired === undefined ? undefined : readNow(wired.id);
    if (wired === undefined || value === undefined) return undefined;
    return analogVolts(wired.hookup, value, supply, outputs) + supply.cableVolts(wired.hookup, nowMs());
  };
  return {
    pins: BOARD_PINS[board.model],
    supplyVolts: (outputs) => supply.railVolts(outputs),
    i2cParts,
    analogVolts: (channel, outputs) => {
      const clean = volts(channel, outputs);
      return clean === undefined ? undefined : clean + supply.noiseVolts(supply.railVolts(outputs));
    },
  };
}
