import type { AlarmKind, AlarmState } from '../../shared/facts/alarm.js';
import type { AnswerSentences, ToldStep } from '../../src/watering/sentences/said/answer-sentences.js';
import type { SaidCall, SaidTransition, SaidTray } from '../../src/watering/sentences/said/desk-sentences.js';
import type { HouseSentences, Undertaking } from '../../src/watering/sentences/said/house-sentences.js';

export const NOW = Date.parse('2026-05-07T09:00:00Z');
export const HOUR_MS = 3_600_000;
export const ROUND = NOW + 9 * HOUR_MS;
export const FAR = NOW + 9 * 24 * HOUR_MS;
export const PAST = NOW - 3 * HOUR_MS;

type Table = HouseSentences | AnswerSentences;
/** For each sentence the arguments that it is tried with; what takes none has none. A new sentence without a case is a type error. */
type Cases<T extends Table> = {
  readonly [K in keyof T]: T[K] extends () => string
    ? readonly []
    : T[K] extends (...given: infer Given) => string
      ? readonly Given[]
      : never;
};

const steps: readonly ToldStep[] = [
  { do: 'new-tray', bench: 'N2x', blockCount: 280, blockSideMm: 19 },
  { do: 'new-tray', bench: 'N2x', blockCount: 72, blockSideMm: 38 },
  ...(['none', 'film', 'loose-dome', 'tight-dome'] as const).map(
    (cover) => ({ do: 'cover', cover }) as const,
  ),
  { do: 'move', bench: 'N2x' },
  { do: 'pot-on', toTray: 'N3x' },
  ...([1, 2, 3, 4, 5] as const).map((level) => ({ do: 'looked', level }) as const),
  { do: 'weighed', grams: 2345 },
  { do: 'attach', probe: 'N4x' },
  { do: 'sown' },
  { do: 'germinated' },
  { do: 'ready-for-water' },
  { do: 'end' },
];

export const answers: Cases<AnswerSentences> = {
  noted: [],
  toldAlready: [['N1x']],
  noSuchTray: (['enter', 'leave-out', 'pot-on'] as const).map(
    (way) => [{ name: 'N1x', meant: 'N2x' }, way] as const,
  ),
  noSuchBench: [[{ name: 'N1x' }, ['N2x', 'N3x']]],
  noSuchProbe: [
    ['N1x', []],
    ['N1x', ['N2x']],
  ],
  trayEnded: [['N1x']],
  trayExists: [['N1x']],
  sameTray: [['N1x']],
  smallerBlock: [
    ['N1x', 'N2x', 38],
    ['N1x', 'N2x', undefined],
  ],
  smallerBlockGiven: [[19, 'N1x', 38]],
  blockCountMissing: [[44]],
  blockSizeMissing: [['N1x']],
  standsOtherwise: [['N1x', 72, 38, 'N2x']],
  refillAboveCapacity: [],
  impossibleWeight: [
    ['N1x', 12, { count: 72, sideMm: 38 }, { leastG: 240 }],
    ['N1x', 99000, { count: 1, sideMm: 38 }, { mostG: 12000 }],
  ],
  trayStep: steps.map((step) => ['N1x', step] as const),
  traysStanding: [
    [[]],
    [[{ bench: 'N1x', count: 1 }]],
    [
      [
        { bench: 'N1x', count: 2 },
        { bench: 'N2x', count: 3 },
      ],
    ],
  ],
  whichTrays: [],
  misfit: [
    [{ tray: 'N1x', bench: { stands: 'N2x', told: 'N3x' }, sideMm: { stands: 38, told: 51 } }],
    [{ tray: 'N1x', sideMm: { stands: 38, told: 51 } }],
  ],
  noTrayStands: [['N1x'], [undefined]],
  noTrayOfSize: [
    [44, 'N1x', [19, 38]],
    [44, undefined, []],
  ],
  doseTooLarge: [[9000, 'N1x', 1920]],
  watered: [1, 2].map(
    (count) =>
      [
        {
          atMs: PAST,
          nowMs: NOW,
          trays: ['N1x', 'N2x'].slice(0, count),
          ml: 580,
          before: ['N3x'],
          again: ['N1x', 'N2x'].slice(0, count),
          leftOut: ['N4x'],
        },
      ] as const,
  ),
  noRound: [],
  notInNotice: [
    [ROUND, NOW, ['N1x'], ['N2x', 'N3x']],
    [FAR, NOW, ['N1x'], []],
  ],
  roundDoneDry: [[ROUND, NOW, ['N1x']]],
  timeToCome: [[FAR, NOW]],
  tooLongAgo: [
    [PAST, NOW, 'watered', 48],
    [PAST, NOW, 'move', 168],
  ],
  untilInPast: [[PAST, NOW]],
  absenceTooLong: [[14]],
  shelvedTooLong: [[7]],
  away: [
    [ROUND, NOW, { mayNotLast: ['N1x'], withoutForecast: ['N2x'], guessed: ['N3x'], lasting: ['N4x'] }],
    [ROUND, NOW, { mayNotLast: [], withoutForecast: [], guessed: [], lasting: ['N4x'] }],
    [ROUND, NOW, { mayNotLast: [], withoutForecast: [], guessed: [], lasting: [] }],
  ],
  notAway: [],
  back: [],
  awayNote: [[FAR]],
  backNote: [],
  seen: [
    [
      [
        { kind: 'refill', of: 'N1x' },
        { kind: 'dry', of: 'N2x' },
      ],
    ],
  ],
  noneToSee: [
    ['refill', 'N1x'],
    [undefined, undefined],
  ],
  noSuchAlarm: [['probe', 'N1x']],
  setAsideAlready: (['shelved', 'out-of-service', 'suppressed-by-design'] as const).map(
    (state) => ['dry', 'N1x', state] as const,
  ),
  setAside: [
    ['dry', 'N1x', ROUND, NOW],
    ['dry', 'N1x', undefined, NOW],
  ],
  notSetAside: [
    ['wet', 'N1x', 'shelved'],
    ['wet', 'N1x', 'out-of-service'],
  ],
  watchedAgain: [['cover', 'N1x']],
  testCallGoes: [[['N1x', 'N2x']]],
  testSeen: [['N1x'], [undefined]],
  noSuchWay: [['N1x', ['N2x']]],
  noTest: [],
  seenStays: [],
  nothingToUndo: [['N1x']],
  restsOnIt: [
    [{ command: 'watered', tray: 'N1x' }],
    [{ command: 'shelve', alarm: { kind: 'dry', of: 'N1x' } }],
    [{ command: 'acknowledge', alarm: { kind: undefined, of: 'N1x' } }],
    [{ command: 'round-done' }],
  ],
  undone: [
    ['watered', ['N1x', 'N2x']],
    ['round-done', []],
  ],
  undoneAlarm: [['broker', 'N1x']],
  undoneAbsence: [
    [ROUND, NOW],
    [undefined, NOW],
  ],
};

const undertakings: readonly Undertaking[] = ['decision', 'round-notice', 'forecasts', 'reading'];
export const house: Cases<HouseSentences> = {
  ailment: [
    [{ kind: 'board', source: 'N1x', reason: 'silent', ownSentence: 'N1x' }],
    [{ kind: 'broker', source: 'broker', reason: 'away', ownSentence: 'gone' }],
    [{ kind: 'store', source: 'store', reason: 'damaged', ownSentence: 'torn' }],
  ],
  asItIs: [['N1x']],
  board: (['connecting', 'ready', 'no-board', 'wrong-firmware', 'silent', 'unplugged'] as const).map(
    (state) => ['N1x', state, 'N2x'] as const,
  ),
  clockStep: [
    [{ why: 'set-back', shiftMs: -25 * 60_000, skippedMs: 0 }],
    [{ why: 'set-forward', shiftMs: 25 * 60_000, skippedMs: 0 }],
    [{ why: 'set-forward', shiftMs: 0, skippedMs: 26 * HOUR_MS }],
    [{ why: 'stood-still', shiftMs: 0, skippedMs: 3.5 * HOUR_MS }],
  ],
  notDone: undertakings.map((what) => [what] as const),
  notCarriedOut: [['watered']],
  eventNotCarriedOut: [['watered', 'N1x']],
  cutOff: [
    ['watered', 'N1x', '2026-05-07T09:00:00Z'],
    ['round-done', undefined, '2026-05-07T09:00:00Z'],
  ],
  notKeptYet: [],
  keptAfterAll: [],
  goneWithoutWord: [],
  stopped: [],
  late: [
    ['N1x', 'N2x', {}],
    ['N1x', 'N2x', { webhook: 'N3x' }],
    ['N1x', 'N2x', { phone: true }],
  ],
  onlyTheStore: [],
  phoneTried: [],
};

export function tray(place: number, isDry: boolean): SaidTray {
  return {
    id: `N${place}x`,
    benchId: 'N8x',
    blockSideMm: place % 2 === 0 ? 38 : 19,
    ...(place === 1 ? { crop: 'N9x' } : {}),
    doseMl: 400 + place,
    pourPlan: { pours: 2, pourMl: 200, soakMin: 20, ...(place === 2 ? { shortMl: 30 } : {}) },
    dryAtMs: isDry ? PAST : ROUND - HOUR_MS,
    earliestDryAtMs: ROUND - 2 * HOUR_MS,
    isDry,
    perhapsWatered: place === 2,
  };
}

const trayReasons: Readonly<Partial<Record<AlarmKind, readonly string[]>>> = {
  refill: ['will-not-reach-round', 'due-not-watered', 'perhaps-shed-water', 'several'],
  dry: ['dry'],
  wet: ['wet'],
  cover: ['cover-unconfirmed', 'cover-after-germination'],
};
const partReasons: Readonly<Partial<Record<AlarmKind, readonly string[]>>> = {
  temperature: ['too-cold', 'too-hot'],
  probe: ['silent', 'out-of-range', 'flat-line', 'noisy', 'odd'],
  board: ['silent', 'unplugged', 'no-board', 'wrong-firmware'],
  monitor: ['monitor-blind'],
  store: ['damaged'],
  broker: [
    'away',
    'twin',
    'withheld',
    'not-kept',
    'webhook-away',
    'webhook-refused',
    'push-away',
    'push-refused',
  ],
};

function each(reasons: typeof trayReasons): readonly (readonly [AlarmKind, string])[] {
  return Object.entries(reasons).flatMap(([kind, list]) =>
    list.map((reason) => [kind as AlarmKind, reason] as const),
  );
}

export const calls: readonly SaidCall[] = [
  ...each(trayReasons).flatMap(([kind, reason]) =>
    [1, 3, 6].flatMap((count) =>
      [true, false].map(
        (again): SaidCall => ({
          nowMs: NOW,
          kind,
          reason,
          trays: Array.from({ length: count }, (_, at) => ({
            ...tray(at + 1, kind === 'dry' && at < 2),
            benchId: count === 6 && at > 3 ? 'N7x' : 'N8x',
          })),
          of: 'N1x',
          others: [],
          again,
          comingRoundMs: ROUND,
        }),
      ),
    ),
  ),
  ...each(partReasons).flatMap(([kind, reason]) =>
    [[], ['N2x']].map(
      (others): SaidCall => ({
        nowMs: NOW,
        kind,
        reason,
        trays: [],
        of: 'N1x',
        others,
        again: false,
        comingRoundMs: ROUND,
        temperatureC: 2.5,
        sinceMs: PAST,
        ...(kind === 'probe' ? { watches: 'tray N3x' } : {}),
      }),
    ),
  ),
];
const states: readonly AlarmState[] = [
  'normal',
  'unacknowledged',
  'acknowledged',
  'returned-to-normal-unacknowledged',
  'shelved',
  'suppressed-by-design',
  'out-of-service',
];
export const transitions: readonly SaidTransition[] = states.flatMap((state) => [
  ...[
    ...each(trayReasons),
    ...(
      [
        'watered',
        'looked-wet',
        'ended',
        'potted-on',
        'covered',
        'uncovered',
        'taken-back',
        'round-over',
      ] as const
    ).map((reason) => ['refill', reason] as const),
  ].map(
    ([kind, reason]): SaidTransition => ({
      nowMs: NOW,
      kind,
      of: 'N1x',
      state,
      reason,
      holds: true,
      by: 'N6x',
      untilMs: ROUND,
      tray: tray(1, false),
      need: { doseMl: 400, comingRoundMs: ROUND, dryAtMs: ROUND - HOUR_MS },
    }),
  ),
  ...each(partReasons).map(
    ([kind, reason]): SaidTransition => ({
      nowMs: NOW,
      kind,
      of: 'N1x',
      state,
      reason,
      holds: true,
      by: 'N6x',
      untilMs: ROUND,
      sinceMs: PAST,
      need: { temperatureC: 2.5 },
    }),
  ),
]);

/** Names, times, amounts: what must stand in a sentence in whatever language. */
