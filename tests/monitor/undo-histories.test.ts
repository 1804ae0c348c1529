import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import type { Command } from '../../shared/wire/command.js';
import { HistoryFarm, HOUR_MS, MIN_MS } from './history-farm.js';

/** A slice of the histories; `DRYBELL_HISTORIES=10000` plays many, three minutes a thousand on one core here. */
const HISTORIES = Number(process.env['DRYBELL_HISTORIES'] ?? 40);
const SEED = Number(process.env['DRYBELL_HISTORIES_SEED'] ?? 1418);
/** Two trays at least, each hour: the next ten forecasts. */
const FORECAST_HOURS = 5;
const EXCERPT = 80;

type Step =
  | { readonly do: 'read'; readonly minutes: number; readonly save: boolean }
  | { readonly do: 'tell'; readonly command: Command; readonly agoMin: number; readonly afterMin: number }
  /** Takes back one of the commands so far. */
  | { readonly do: 'undo'; readonly which: number; readonly afterMin: number }
  | { readonly do: 'restart' | 'crash' };

const tray = fc.constantFrom('t1', 't2', 'n1', 'n2');
const by = fc.constantFrom('Ana', 'Ben');
const kind = fc.constantFrom('dry' as const, 'refill' as const, 'temperature' as const);
const level = fc.constantFrom(1 as const, 2 as const, 3 as const, 4 as const, 5 as const);

/** `until` of "later" and "away" is filled in when it is told. */
const command: fc.Arbitrary<Command> = fc.oneof(
  { weight: 4, arbitrary: fc.record({ do: fc.constant('watered' as const), tray, by }) },
  {
    weight: 2,
    arbitrary: fc.record({ do: fc.constant('watered' as const), tray, ml: fc.constantFrom(0, 100, 300) }),
  },
  fc.record({ do: fc.constant('watered' as const), bench: fc.constant('south') }),
  {
    weight: 3,
    arbitrary: fc.record({
      do: fc.constant('new-tray' as const),
      tray: fc.constantFrom('n1', 'n2'),
      bench: fc.constantFrom('south', 'north'),
      blockSideMm: fc.constantFrom(38, 51),
    }),
  },
  {
    weight: 3,
    arbitrary: fc.record({
      do: fc.constant('pot-on' as const),
      tray,
      toTray: fc.constantFrom('n1', 'n2'),
      blockSideMm: fc.constantFrom(38, 51),
    }),
  },
  fc.record({
    do: fc.constant('round-done' as const),
    except: fc.constantFrom<string[][]>([], ['t1'], ['t2']),
  }),
  fc.record({
    do: fc.constantFrom('sown' as const, 'germinated' as const, 'ready-for-water' as const, 'end' as const),
    tray,
  }),
  fc.record({
    do: fc.constant('cover' as const),
    tray,
    cover: fc.constantFrom('none' as const, 'film' as const),
  }),
  fc.record({ do: fc.constant('move' as const), tray, bench: fc.constantFrom('south', 'north') }),
  fc.record({ do: fc.constant('looked' as const), tray, level }),
  fc.record({ do: fc.constant('weighed' as const), tray, grams: fc.constantFrom(1200, 2600) }),
  fc.record({ do: fc.constant('attach' as const), probe: fc.constant('moist'), tray }),
  fc.record({ do: fc.constant('away' as const), until: fc.constant('') }),
  fc.record({ do: fc.constant('back' as const) }),
  fc.record({ do: fc.constant('acknowledge' as const), by }),
  fc.record({
    do: fc.constant('shelve' as const),
    kind,
    of: fc.constantFrom('t1', 't2', 'south'),
    until: fc.constant(''),
  }),
  fc.record({
    do: fc.constantFrom('out-of-service' as const, 'in-service' as const, 'unshelve' as const),
    kind,
    of: fc.constantFrom('t1', 't2', 'south'),
  }),
  fc.record({ do: fc.constant('note' as const), text: fc.constant('dripping') }),
  fc.record({ do: fc.constantFrom('list-trays' as const, 'test-call' as const, 'test-seen' as const) }),
);

const step: fc.Arbitrary<Step> = fc.oneof(
  {
    weight: 4,
    arbitrary: fc.record({
      do: fc.constant('read' as const),
      minutes: fc.constantFrom(10, 20, 60, 130),
      save: fc.boolean(),
    }),
  },
  {
    weight: 6,
    arbitrary: fc.record({
      do: fc.constant('tell' as const),
      command,
      agoMin: fc.constantFrom(0, 0, 0, 5, 45, 150),
      afterMin: fc.constantFrom(0, 0, 1, 7),
    }),
  },
  {
    weight: 5,
    arbitrary: fc.record({
      do: fc.constant('undo' as const),
      which: fc.nat(),
      afterMin: fc.constantFrom(0, 1),
    }),
  },
  fc.record({ do: fc.constantFrom('restart' as const, 'crash' as const) }),
);

const history: fc.Arbitrary<History> = fc.record({
  steps: fc.array(step, { minLength: 3, maxLength: 14 }),
  pouredMinutes: fc.constantFrom([], [100], [60, 330]),
});

function toldAt(given: Command, agoMin: number, nowMs: number): Command {
  if ('until' in given) return { ...given, until: toInstant(nowMs + (agoMin + 30) * MIN_MS) } as Command;
  return agoMin === 0 || !('at' in given || 'tray' in given)
    ? given
    : ({ ...given, at: toInstant(nowMs - agoMin * MIN_MS) } as Command);
}

type History = { readonly steps: readonly Step[]; readonly pouredMinutes: readonly number[] };

/** Histories that once made a difference. */
const once: readonly History[] = [
  {
    // The notice of the return had a restart give the coming round's again, at a time when nothing fell due without the absence.
    steps: [
      { do: 'read', minutes: 150, save: false },
      { do: 'tell', command: { do: 'away', until: '' }, agoMin: 0, afterMin: 7 },
      { do: 'restart' },
      { do: 'undo', which: 0, afterMin: 0 },
    ],
    pouredMinutes: [],
  },
  {
    steps: [
      { do: 'read', minutes: 130, save: true },
      { do: 'undo', which: 319_828_609, afterMin: 1 },
      { do: 'read', minutes: 20, save: true },
      { do: 'crash' },
      { do: 'tell', command: { do: 'away', until: '' }, agoMin: 0, afterMin: 7 },
      {
        do: 'tell',
        command: { do: 'shelve', kind: 'temperature', of: 't2', until: '' },
        agoMin: 45,
        afterMin: 0,
      },
      { do: 'tell', command: { do: 'attach', probe: 'moist', tray: 'n2' }, agoMin: 45, afterMin: 1 },
      { do: 'restart' },
      { do: 'undo', which: 1_536_350_577, afterMin: 1 },
      { do: 'undo', which: 669_490_179, afterMin: 1 },
    ],
    pouredMinutes: [100],
  },
  {
    // A word told late of a tray that was then gone was refused, and heard at the time of its telling once the tray had never gone.
    steps: [
      {
        do: 'tell',
        command: { do: 'pot-on', tray: 't1', toTray: 'n1', blockSideMm: 38 },
        agoMin: 0,
        afterMin: 0,
      },
      { do: 'read', minutes: 130, save: false },
      { do: 'tell', command: { do: 'ready-for-water', tray: 't1' }, agoMin: 45, afterMin: 0 },
      { do: 'undo', which: 0, afterMin: 0 },
      { do: 'read', minutes: 10, save: false },
      {
        do: 'tell',
        command: { do: 'new-tray', tray: 'n1', bench: 'south', blockSideMm: 38 },
        agoMin: 0,
        afterMin: 0,
      },
      { do: 'read', minutes: 10, save: false },
    ],
    pouredMinutes: [],
  },
];

interface Lived {
  readonly farm: HistoryFarm;
  /** Commands that were taken back. */
  readonly undone: ReadonlySet<string>;
}

/** Lives a history; without these commands, and without any undo, where they are given. */
async function live({ steps, pouredMinutes }: History, neverSaid?: ReadonlySet<string>): Promise<Lived> {
  const farm = new HistoryFarm(pouredMinutes);
  const undone = new Set<string>();
  const refs: string[] = [];
  for (const [index, one] of steps.entries()) {
    const ref = `c${index}`;
    switch (one.do) {
      case 'read':
        farm.read(one.minutes);
        if (one.save) farm.save();
        break;
      case 'restart':
        farm.save();
        await farm.reopen();
        break;
      case 'crash':
        await farm.reopen();
        break;
      case 'tell':
        farm.wait(one.afterMin);
        refs.push(ref);
        if (neverSaid?.has(ref) !== true) {
          const answer = farm.tell(toldAt(one.command, one.agoMin, farm.nowMs), ref);
          expect(answer.code, JSON.stringify(one.command)).not.toBe('not-carried-out');
        }
        farm.save();
        break;
      case 'undo': {
        farm.wait(one.afterMin);
        const of = refs[one.which % Math.max(1, refs.length)];
        if (neverSaid === undefined && of !== undefined) {
          const answer = farm.tell({ do: 'undo', undo: of }, ref);
          expect(answer.code, `undo ${of}`).not.toBe('not-carried-out');
          if (answer.ok) undone.add(of);
        }
        farm.save();
        break;
      }
    }
  }
  return { farm, undone };
}

/** Where two texts part, with what stands before; empty where they never do. */
function firstDifference(one: string, other: string): string {
  if (one === other) return '';
  let at = 0;
  while (one[at] === other[at]) at++;
  const from = Math.max(0, at - EXCERPT);
  return `${one.slice(from, at + EXCERPT)} | ${other.slice(from, at + EXCERPT)}`;
}

describe('any history of commands, undo, restarts and crashes', () => {
  it(
    'what was done and undone has never been: states and the next ten forecasts',
    async () => {
      let undoneCount = 0;
      await fc.assert(
        fc.asyncProperty(history, async (lived) => {
          const { farm, undone } = await live(lived);
          if (undone.size === 0) return;
          undoneCount += undone.size;
          const { farm: never } = await live(lived, undone);
          expect(firstDifference(farm.states(), never.states())).toBe('');
          const hours = FORECAST_HOURS;
          expect(firstDifference(farm.forecasts(hours), never.forecasts(hours))).toBe('');
        }),
        { numRuns: HISTORIES, seed: SEED, examples: once.map((one) => [one]) },
      );
      expect(undoneCount).toBeGreaterThan(HISTORIES / 4);
    },
    HISTORIES * HOUR_MS,
  );
});
