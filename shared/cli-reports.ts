import { z } from 'zod';
import { idSchema, instantSchema } from './base/ids.js';
import { alarmTransitionSchema } from './facts/alarm.js';
import { PROBE_DOUBTS } from './facts/probe-verdict.js';
import { flagSchema, rawUnitSchema } from './facts/reading.js';
import { trayLineSchema } from './facts/tray-line.js';
import { hoursEstimateSchema } from './page/page-review.js';
import { answerSchema } from './wire/command.js';

/** What `drybell check --json` prints. */
export const checkReportSchema = z
  .strictObject({
    file: z.string(),
    farm: idSchema,
    findings: z.array(
      z.strictObject({
        what: z.string().describe('Part, or part and its id: "page", "board kit".'),
        ok: z.boolean(),
        better: z.literal(true).optional().describe('Advice: it will do, and would be better otherwise.'),
        sentence: z.string().describe('What works, or what was expected and what to do.'),
        line: z
          .int()
          .min(1)
          .optional()
          .describe('Where the configuration says it; absent for the machine itself.'),
        column: z.int().min(1).optional(),
        name: z.string().optional().describe('The same by name, such as "trays[celery-1].bench".'),
      }),
    ),
  })
  .meta({ id: 'CheckReport' });
export type CheckReport = z.infer<typeof checkReportSchema>;

/** What `drybell status --json` prints. Times are of this machine's clock, in the demo of the farm's. */
export const statusReportSchema = z
  .strictObject({
    at: instantSchema,
    farm: idSchema,
    well: z.boolean().describe('False wherever somebody should look; the exit status says the same.'),
    monitor: z.strictObject({
      state: z
        .enum(['runs', 'unheard', 'ended'])
        .describe('unheard: a monitor writes to the store, but is not found at the broker.'),
      broker: z.string().describe('Address of the broker at which it was looked for.'),
      drive: z.enum(['live', 'demo', 'replay']).optional(),
      since: instantSchema.optional().describe('When it last said that it runs.'),
      sentence: z.string().optional().describe('Why it is not found, and what to do.'),
      troubles: z
        .array(z.string())
        .describe('What could not be read at its last start, and what became of it: a sentence each.'),
    }),
    configuration: z.string().optional().describe('Its file; absent when only the broker was named.'),
    store: z
      .strictObject({
        folder: z.string(),
        bytes: z.int().optional().describe('Absent until something was kept.'),
        aside: z
          .array(z.string())
          .describe('What could not be read and was set aside: files, and states by name.'),
        sentence: z.string().optional().describe('Why it could not be looked at, and what to do.'),
      })
      .optional(),
    probes: z.array(
      z.strictObject({
        id: idSchema,
        newestAt: instantSchema
          .optional()
          .describe('Of its newest reading that has a value; absent before the first.'),
      }),
    ),
    outgoing: z
      .array(
        z.strictObject({
          to: z.string().describe('"broker", or the id of a webhook.'),
          waiting: z.int(),
          oldestAt: instantSchema.optional(),
        }),
      )
      .describe('What waits to be sent, on each way out.'),
    alarms: z.array(alarmTransitionSchema).describe('All that are not normal, as they last stood.'),
  })
  .meta({ id: 'StatusReport' });
export type StatusReport = z.infer<typeof statusReportSchema>;

/** What every command that tells the monitor something prints with --json. */
export const answersReportSchema = z
  .strictObject({ answers: z.array(answerSchema).describe('In the order in which it was told.') })
  .meta({ id: 'AnswersReport' });

/** What `drybell alarm --json` prints. */
export const alarmsReportSchema = z
  .strictObject({
    farm: idSchema,
    alarms: z.array(alarmTransitionSchema).describe('Oldest transition first.'),
  })
  .meta({ id: 'AlarmsReport' });
export type AlarmsReport = z.infer<typeof alarmsReportSchema>;

/** What `drybell tray --json` prints. */
export const trayListSchema = z.array(trayLineSchema).meta({ id: 'TrayList' });

/** What `drybell explain TRAY --json` prints. */
export const beliefReportSchema = z
  .strictObject({
    trayId: idSchema,
    atMs: z.number().describe('When it was saved, ms since 1970.'),
    lines: z.array(
      z.strictObject({
        quantity: z.string(),
        value: z.number(),
        sd: z.number().optional(),
        unit: z.string(),
        from: z.string(),
        pouredAtMs: z.number().optional().describe('When it was last poured, ms since 1970.'),
      }),
    ),
  })
  .meta({ id: 'BeliefReport' });

const orBeyond = z.number().nullable().describe('Null: beyond 30 days.');
const estimateRangeSchema = z.strictObject({ p10: orBeyond, p50: orBeyond, p90: orBeyond });

/** What `drybell estimate --json` prints, metric. */
export const estimateReportSchema = z
  .strictObject({
    climate: z.strictObject({
      temperatureC: z.number(),
      relativeHumidityPct: z.number(),
      nightTemperatureC: z.number().nullish(),
      airSpeedMPerS: z.number(),
      solarMJPerM2Day: z.number(),
      dayLengthH: z.number(),
      bottomHeatWPerM2: z.number().nullish(),
    }),
    trays: z.array(
      z.strictObject({
        blockSideMm: z.number(),
        blockCount: z.int(),
        hoursToRefill: estimateRangeSchema,
        hoursToRefillDriestTenth: estimateRangeSchema,
        doseMlPerBlock: z.number(),
        doseMlPerTray: z.number(),
        lossMlPerBlockPerDay: z.number(),
        wateringsPerDay: z.strictObject({ p10: z.number(), p50: z.number(), p90: z.number() }),
      }),
    ),
  })
  .meta({ id: 'EstimateReport' });

/** What `drybell curves --json` prints: hours from a watering to the refill point, by block size. */
export const curvesReportSchema = z
  .strictObject({
    from: instantSchema,
    to: instantSchema,
    sizes: z.array(
      z.strictObject({
        blockSideMm: z.number(),
        dryDownCount: z.int(),
        reachedCount: z.int().describe('The others were watered before they came to the refill point.'),
        p10: hoursEstimateSchema,
        p50: hoursEstimateSchema,
        p90: hoursEstimateSchema,
        longestH: z.number(),
        roundsPerDay: z.number().nullable(),
      }),
    ),
  })
  .meta({ id: 'CurvesReport' });
export type CurvesReport = z.infer<typeof curvesReportSchema>;

/** What `drybell replay --json` prints, and what stands in summary.json. */
export const replaySummarySchema = z
  .strictObject({
    farm: idSchema,
    from: instantSchema.nullable(),
    to: instantSchema.nullable(),
    readings: z.int(),
    logRows: z.int(),
    rejected: z.int(),
    rejectedRows: z.array(z.strictObject({ file: z.string(), row: z.int(), reason: z.string() })),
    forecasts: z.int(),
    alarmTransitions: z.int(),
    roundNotices: z.int(),
    waterings: z.strictObject({ logged: z.int(), detected: z.int() }),
    calls: z.int(),
    dryDowns: z.int(),
  })
  .meta({ id: 'ReplaySummary' });

/** What `drybell look FILE --json` prints. */
export const lookReportSchema = z
  .strictObject({
    time: z.strictObject({
      from: instantSchema,
      to: instantSchema,
      zone: z.string().describe("Of the logger's clock."),
    }),
    series: z.array(
      z.strictObject({
        column: z.string(),
        kind: z.string().describe('A kind of probe.'),
        unit: z.string(),
        readings: z.int(),
        from: instantSchema,
        to: instantSchema,
        least: z.number(),
        most: z.number(),
      }),
    ),
    dryDowns: z.int(),
  })
  .meta({ id: 'LookReport' });
export type LookReport = z.infer<typeof lookReportSchema>;

/** What `drybell convert FILE --json` prints. */
export const convertReportSchema = z
  .strictObject({
    out: z.string().optional().describe('The file that was written; absent when no reading could be used.'),
    rows: z.int(),
    readings: z.int(),
    emptyCells: z.int(),
    problems: z.int(),
    doubtfulTimes: z.int().describe('Rows at a clock time that came twice, when the clocks went back.'),
    byProbe: z.record(idSchema, z.int()),
  })
  .meta({ id: 'ConvertReport' });
export type ConvertReport = z.infer<typeof convertReportSchema>;

/** What `drybell store-check --json` prints. */
export const storeReportSchema = z
  .strictObject({
    path: z.string(),
    bytes: z.int(),
    damage: z.array(z.string()),
    readingCount: z.int(),
    factCount: z.int(),
    aside: z.array(z.string()).describe('Files that could not be read, under their dated names.'),
    asideStates: z.array(z.string()),
    unreadableCount: z.int().describe('Journal entries of which bytes were changed on the disk.'),
    spool: z
      .strictObject({ waitingCount: z.int(), refusedCount: z.int(), releasedCount: z.int() })
      .optional()
      .describe('What waits for InfluxDB, and what it refused; absent when nothing was ever spooled.'),
  })
  .meta({ id: 'StoreReport' });
export type StoreCheckReport = z.infer<typeof storeReportSchema>;

/** What `drybell backup --json` prints. */
export const backupReportSchema = z
  .strictObject({ path: z.string(), bytes: z.int(), readingCount: z.int(), factCount: z.int() })
  .meta({ id: 'BackupReport' });

/** What `drybell restore --json` prints. */
export const restoreReportSchema = z
  .strictObject({
    path: z.string().describe('The store, now the backup.'),
    bytes: z.int(),
    readingCount: z.int(),
    factCount: z.int(),
    aside: z.string().optional().describe('Where the store that was there is now.'),
  })
  .meta({ id: 'RestoreReport' });

/** What `drybell probes --once --json` prints. */
export const probesReportSchema = z
  .strictObject({
    farm: idSchema,
    at: instantSchema,
    boards: z.array(
      z.strictObject({
        board: idSchema,
        state: z.enum(['connecting', 'ready', 'no-board', 'wrong-firmware', 'silent', 'unplugged']),
        sentence: z.string().describe('How it is, and what to do.'),
      }),
    ),
    probes: z.array(
      z.strictObject({
        probe: idSchema,
        kind: z.string().describe('A kind of probe.'),
        at: instantSchema.optional().describe('When it was read; absent when it never answered.'),
        adcCounts: z.number().optional().describe("Mean counts of the board's converter, or of the part."),
        volts: z.number().optional().describe("At the board's input; analog probes only."),
        rawValue: z.number().optional().describe('Absent when it did not answer.'),
        rawUnit: rawUnitSchema,
        waterContentM3PerM3: z.number().optional().describe('Calibrated block-moisture probes only.'),
        flag: flagSchema.optional().describe('Absent while a delivered probe has sent nothing.'),
        flagReasons: z.array(z.string()),
        counts: z.boolean().describe('Whether the reading would count in a forecast.'),
        ok: z.boolean().describe('Whether the probe is trusted; the exit status is 1 where one is not.'),
        doubt: z.enum(PROBE_DOUBTS).optional().describe('Why it is not trusted.'),
        reason: z.string().optional().describe('Why it did not answer, and what to do.'),
        heardAt: instantSchema.optional().describe('When a delivered probe was last heard.'),
        battery: z.number().optional(),
        signalDbm: z.number().optional(),
      }),
    ),
  })
  .meta({ id: 'ProbesReport' });
export type ProbesReport = z.infer<typeof probesReportSchema>;

/** What `drybell probes --boards --json` prints. */
export const boardsReportSchema = z
  .strictObject({
    boards: z.array(
      z.strictObject({
        path: z.string().describe('Of its serial port; changes from boot to boot.'),
        serialNumber: z.string().optional().describe('For "serialNumber" in the configuration.'),
        manufacturer: z.string().optional(),
        link: z.string().optional().describe('A name of the port that stays with its socket.'),
      }),
    ),
  })
  .meta({ id: 'BoardsReport' });
export type BoardsReport = z.infer<typeof boardsReportSchema>;

/** What `drybell wiring --json` prints. */
export const wiringReportSchema = z
  .strictObject({
    conflicts: z.array(
      z.strictObject({
        board: idSchema,
        probe: idSchema.optional().describe('The probe to change; absent where it is the board itself.'),
        problem: z.string(),
        remedy: z.string(),
      }),
    ),
    files: z.array(z.string()).describe('Drawings and wire lists that were written.'),
  })
  .meta({ id: 'WiringReport' });
export type WiringReport = z.infer<typeof wiringReportSchema>;

/** A line that `drybell listen --json` prints: a sentence, or that the monitor came or went. */
export const heardReportSchema = z
  .strictObject({
    at: instantSchema.describe('When it was heard.'),
    say: z.string().optional().describe('A call, notice or question in words.'),
    online: z.boolean().optional().describe('Whether the monitor watches now.'),
    sentence: z.string().optional().describe('Why it does not.'),
  })
  .meta({ id: 'HeardReport' });
export type HeardReport = z.infer<typeof heardReportSchema>;
