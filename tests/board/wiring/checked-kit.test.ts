import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type BoardConfig, boardModelSchema, boardSchema } from '../../../shared/config/kit/hookup.js';
import { type ProbeConfig, probeSchema } from '../../../shared/config/kit/probes.js';
import { findConflicts } from '../../../src/board/wiring/conflicts/conflicts.js';
import { planBoard } from '../../../src/board/wiring/plan/wiring-plan.js';
import { standardFirmata } from '../virtual/firmware.js';
import { VirtualUno } from '../virtual/uno.js';
import { pinTables } from './board-tables.js';

const pin = fc.oneof(
  { weight: 4, arbitrary: fc.integer({ min: 2, max: 21 }) },
  fc.integer({ min: 0, max: 69 }),
);
const analogPin = fc.integer({ min: 0, max: 9 }).map((n) => `A${n}`);
const input = fc.oneof(
  { weight: 3, arbitrary: analogPin },
  fc.integer({ min: 0, max: 15 }).map((n) => `mux1.${n}`),
);
const supplyVolts = fc.option(fc.constantFrom(3.3, 5), { nil: undefined, freq: 1 });
const cableM = fc.option(fc.constantFrom(0.2, 1, 4, 15, 30), { nil: undefined, freq: 1 });

const hookup = fc.oneof(
  fc.record({ part: fc.constant('capacitive-moisture'), input, supplyVolts, cableM }),
  fc.record({
    part: fc.constant('thermistor'),
    input,
    supplyVolts,
    cableM,
    fixedOhm: fc.constantFrom(500, 2200, 10_000),
    curve: fc.constant({ resistanceAt25Ohm: 10_000, betaK: 3950 }),
  }),
  fc.record({
    part: fc.constant('photo-resistor'),
    input,
    supplyVolts,
    cableM,
    fixedOhm: fc.constantFrom(330, 470, 1000, 10_000),
  }),
  fc.record({ part: fc.constant('sht31'), address: fc.constantFrom('0x44', '0x45'), supplyVolts, cableM }),
  fc.record({ part: fc.constant('bh1750'), supplyVolts, cableM }),
  fc.record({ part: fc.constant('load-cell'), supplyVolts, cableM }),
);
const kindOf: Readonly<Record<string, string>> = {
  'capacitive-moisture': 'block-moisture',
  thermistor: 'air-temperature',
  'photo-resistor': 'light',
  sht31: 'air-temperature',
  bh1750: 'light',
  'load-cell': 'tray-weight',
};

const maybe = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: undefined, freq: 1 });
const kit = fc
  .record({
    model: fc.constantFrom(...boardModelSchema.options),
    probePower: maybe(
      fc.record({
        pin,
        through: fc.constantFrom('pin', 'load-switch'),
        topInput: maybe(analogPin),
      }),
    ),
    reference: maybe(fc.record({ input: analogPin })),
    selectPins: maybe(fc.tuple(pin, pin, pin, pin)),
    callPost: maybe(fc.record({ lampPin: maybe(pin), buzzerPin: maybe(pin), buttonPin: maybe(pin) })),
    usbBudgetMa: fc.constantFrom(100, 500, 500, 500),
    hookups: fc.array(hookup, { maxLength: 4 }),
  })
  .map(({ hookups, selectPins, ...board }) => ({
    board: boardSchema.parse({
      ...board,
      id: 'b1',
      multiplexers: selectPins === undefined ? [] : [{ id: 'mux1', input: 'A0', selectPins }],
    }),
    probes: hookups
      .filter((one) => selectPins !== undefined || !('input' in one) || !one.input.startsWith('mux1'))
      .map((one, index) =>
        probeSchema.parse({
          id: `p${index}`,
          kind: kindOf[one.part],
          ...(['block-moisture', 'tray-weight'].includes(kindOf[one.part] ?? '')
            ? {}
            : { bench: `n${index}` }),
          hookup: { ...one, board: 'b1' },
        }),
      ),
  }));

/** What the board's own table forbids, worked out from the wires that the drawing asks for. */
function violations(board: BoardConfig, probes: readonly ProbeConfig[]): string[] {
  const table = pinTables[board.model];
  const found: string[] = [];
  const plan = planBoard(board, probes);
  const numberOf = (printed: string) =>
    printed.startsWith('A') ? (table.analog[Number(printed.slice(1))] ?? -1) : Number(printed.slice(1));
  const jobs = new Map<number, string>();
  const take = (at: number, job: string) => {
    const other = jobs.get(at);
    if (other !== undefined && other !== job) found.push(`pin ${at}: ${other} and ${job}`);
    jobs.set(at, job);
  };
  for (const terminal of plan.boardTerminals) {
    if (['5V', '3V3', 'GND'].includes(terminal.net)) continue;
    if (terminal.net === 'SDA') take(table.bus[0], 'SDA');
    else if (terminal.net === 'SCL') take(table.bus[1], 'SCL');
    else if (/^A\d+$/.test(terminal.net)) {
      const at = numberOf(terminal.net);
      if (!table.analog.includes(at)) found.push(`there is no ${terminal.net}`);
      take(at, terminal.net);
    } else {
      const at = numberOf(terminal.name);
      if (!table.drives.includes(at)) found.push(`${terminal.name} drives nothing`);
      take(at, terminal.net);
    }
  }
  const volts = (ma: number, what: string, limit: number) => {
    if (ma > limit) found.push(`${what}: ${ma} mA of ${limit}`);
  };
  const lamp = board.callPost?.lampPin === undefined ? 0 : ((table.volts - 1.8) / 330) * 1000;
  const buzzer = board.callPost?.buzzerPin === undefined ? 0 : 20;
  volts(lamp, 'lamp', table.pinMa);
  volts(buzzer, 'buzzer', table.pinMa);
  const isFedByPin = board.probePower?.through === 'pin';
  let fed = 0;
  for (const card of plan.cards)
    for (const terminal of card.terminals)
      if (isFedByPin && terminal.net === 'PWR' && card.id !== 'power-top') {
        const fixed = card.components.find(
          ({ kind, nodes, amount }) =>
            kind === 'resistor' && amount < 20_000 && !nodes.some((n) => /^A\d/.test(n)),
        );
        fed += fixed === undefined ? Number.POSITIVE_INFINITY : (table.volts / fixed.amount) * 1000;
      }
  volts(fed, 'the power pin', Math.min(5, table.pinMa));
  volts(lamp + buzzer + fed, 'all pins', table.allMa);
  const supplies = plan.cards.flatMap(({ terminals }) => terminals).filter(({ name }) => name === 'VCC');
  if (table.volts === 3.3 && supplies.some(({ net }) => net === '5V')) found.push('5 V on a 3.3 V board');
  for (const { id, hookup: one } of probes) {
    if (one === undefined || !('supplyVolts' in one) || one.supplyVolts !== 3.3) continue;
    const card = plan.cards.find((candidate) => candidate.id === id);
    const feed = card?.terminals.find(({ name }) => name === 'VCC')?.net;
    const isThree = feed === '3V3' || (table.volts === 3.3 && feed === 'PWR');
    if (card !== undefined && !isThree) found.push(`${id} wants 3.3 V and hangs on ${feed}`);
    if (table.volts === 5 && card?.terminals.some(({ net }) => net === 'SDA' || net === 'SCL'))
      found.push(`${id} bears 3.3 V and hangs on a 5 V bus`);
  }
  const addresses = plan.cards.flatMap(({ subtitle }) => /0x[0-9a-f]{2}$/.exec(subtitle)?.[0] ?? []);
  if (new Set(addresses).size < addresses.length) found.push(`addresses ${addresses.join(' ')}`);
  return found;
}

describe('a kit that the checker passes', () => {
  it("never violates the board's own table", () => {
    let passed = 0;
    fc.assert(
      fc.property(kit, ({ board, probes }) => {
        if (findConflicts([board], probes).length > 0) return;
        passed += 1;
        expect(violations(board, probes)).toEqual([]);
      }),
      { numRuns: 5000, seed: 17 },
    );
    // a property that passes nothing proves nothing
    expect(passed).toBeGreaterThan(300);
  });

  it('is judged by a table that StandardFirmata itself confirms for the uno', () => {
    const bytes: number[] = [];
    const uno = new VirtualUno(standardFirmata(), (byte) => bytes.push(byte));
    uno.runMs(2000);
    bytes.length = 0;
    for (const byte of [0xf0, 0x6b, 0xf7]) {
      uno.receive(Uint8Array.of(byte));
      uno.runMs(5);
    }
    uno.runMs(200);
    const start = bytes.indexOf(0x6c);
    const pins: number[][] = [[]];
    for (const byte of bytes.slice(start + 1, bytes.indexOf(0xf7, start)))
      if (byte === 0x7f) pins.push([]);
      else pins.at(-1)?.push(byte);
    const able = (mode: number) =>
      pins.flatMap((pairs, at) => (pairs.some((byte, i) => i % 2 === 0 && byte === mode) ? [at] : []));
    const [output, analog, i2c] = [1, 2, 6];
    expect(able(output)).toEqual(pinTables.uno.drives);
    expect(able(analog)).toEqual(pinTables.uno.analog);
    expect(able(i2c)).toEqual(pinTables.uno.bus);
  });
});
