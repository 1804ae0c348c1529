import { toInstant } from '../../shared/base/ids.js';
import type { Fact, FactKind } from '../../src/monitor/ports/facts.js';
import {
  alarmFact,
  callFact,
  desksCall,
  forecastFact,
  quietCall,
  readingFact,
  roundFact,
  START_MS,
} from './facts.js';

const at = toInstant(START_MS);
const event = { at, tray: 't1', event: 'covered', cover: 'film', by: 'anna' } as const;

/** Each kind of fact in one or more shapes; a kind that is missing here does not compile. */
export const EVERY_FACT: Readonly<Record<FactKind, readonly Fact[]>> = {
  reading: [
    readingFact('moist-t1', 1.52),
    readingFact('moist-t2'),
    ...(
      [
        ['temp-south', 'Cel', 21.4],
        ['rh-south', '%RH', 63],
        ['light-south', 'lx', 24_000],
        ['light-north', 'W/m2', 310],
        ['scale-t1', 'g', 2140],
      ] as const
    ).map(
      ([probeId, rawUnit, rawValue]): Fact => ({
        kind: 'reading',
        reading: {
          probeId,
          observedAtMs: START_MS,
          rawValue,
          rawUnit,
          waterContentM3PerM3: undefined,
          flag: 3,
          flagReasons: ['spike', 'rate-of-change'],
          calibrationId: undefined,
        },
      }),
    ),
  ],
  forecast: [forecastFact('t1')],
  alarm: [
    alarmFact('t1', 'unacknowledged'),
    { kind: 'alarm', transition: { at, kind: 'temperature', state: 'unacknowledged', bench: 'south' } },
    {
      kind: 'alarm',
      transition: { at, kind: 'board', state: 'shelved', source: 'board one', shelvedUntil: at, by: 'anna' },
    },
  ],
  call: [
    callFact(['t1', 't2'], 'Bench south: 2 trays will not last until 18:00.'),
    desksCall(['t1', 't2']),
    quietCall(),
  ],
  'round-notice': [
    roundFact('Bench south, 18:00 round: water 1 tray of minis, about 580 mL.'),
    {
      kind: 'round-notice',
      notice: {
        at,
        round: at,
        due: [
          {
            tray: 't1',
            doseMl: 580,
            bench: 'south',
            crop: 'celery',
            blockSideMm: 19,
            hoursToRefill: { p10: 2, p50: 4.5, p90: null },
            pourPlan: { pours: 2, pourMl: 290, soakMin: 10 },
            perhapsWatered: true,
          },
        ],
        canWait: [{ tray: 't2', untilRound: at, hoursToRefill: { p10: null, p50: null, p90: null } }],
      },
    },
  ],
  watering: [
    { kind: 'watering', watering: { at, tray: 't1', source: 'detected', ml: 540, takenUpMl: 540 } },
    { kind: 'watering', watering: { at, tray: 't1', source: 'logged', by: 'anna' } },
  ],
  'tray-event': [
    { kind: 'tray-event', event },
    {
      kind: 'tray-event',
      event: { at, tray: 't3', event: 'new', bench: 'south', blockSideMm: 38, blockCount: 72, crop: 'leek' },
    },
    { kind: 'tray-event', event: { at, tray: 't4', event: 'ended' } },
  ],
  'tray-event-undone': [{ kind: 'tray-event-undone', event }],
  'dry-down': [
    {
      kind: 'dry-down',
      dryDown: {
        trayId: 't1',
        startedAtMs: START_MS - 36_000_000,
        endedAtMs: START_MS,
        startWaterContentM3PerM3: 0.6,
        endWaterContentM3PerM3: 0.4,
        meanVpdKPa: 0.9,
        hasProbe: true,
      },
    },
  ],
  'probe-drift': [{ kind: 'probe-drift', probeId: 'moist-t1', atMs: START_MS, driftM3PerM3: 0.03 }],
  note: [
    { kind: 'note', at, text: 'aphids on the leeks' },
    { kind: 'note', at, tray: 't1', by: 'anna', text: 'turned the tray', photo: '0123456789abcdef01234567' },
  ],
  'note-undone': [{ kind: 'note-undone', note: { at, tray: 't1', by: 'anna', text: 'turned the tray' } }],
  ask: [{ kind: 'ask', at, trays: ['t2'], sentence: 'Was tray t2 watered this morning?' }],
  'test-call': [
    {
      kind: 'test-call',
      at,
      test: 'test-1',
      by: 'anna',
      ways: ['mqtt'],
      bareSeen: true,
    },
  ],
  'test-seen': [
    { kind: 'test-seen', at, test: 'test-1', way: 'mqtt', by: 'anna' },
    { kind: 'test-seen', at, test: 'test-1' },
  ],
  answer: [{ kind: 'answer', answer: { ref: 'a1', at, ok: true, code: 'done', sentence: 'Noted.' } }],
  status: [
    { kind: 'status', status: { online: true, at, drive: 'live', sentence: 'Two benches, 40 trays.' } },
  ],
};
