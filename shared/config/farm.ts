import { z } from 'zod';
import { idSchema } from '../base/ids.js';
import { benchSchema } from './benches.js';
import { boardSchema } from './kit/hookup.js';
import { checkHookups } from './kit/hookup-checks.js';
import { probeSchema } from './kit/probes.js';
import { languageSchema } from './language.js';
import { messagingSchema } from './messaging.js';
import { noticesSchema, roundsSchema, unitsSchema } from './notices.js';
import { pageSchema } from './page.js';
import { signOfLifeSchema } from './sign-of-life.js';
import { storeSchema } from './store.js';
import { traySchema } from './trays.js';

function isTimeZone(name: string): boolean {
  try {
    return new Intl.DateTimeFormat('en', { timeZone: name }).resolvedOptions().timeZone.length > 0;
  } catch (cause) {
    if (cause instanceof RangeError) return false;
    throw cause;
  }
}

const shape = z.strictObject({
  farm: idSchema,
  timeZone: z
    .string()
    .refine(isTimeZone, 'expected an IANA time zone such as "Europe/Berlin"')
    .default('UTC'),
  rounds: roundsSchema.default(['07:00', '18:00']),
  latitude: z.number().min(-90).max(90).optional(),
  longitude: z.number().min(-180).max(180).optional(),
  language: languageSchema
    .default('en')
    .describe('What notices, calls, questions, answers and the page are said in.'),
  units: unitsSchema.prefault({}),
  cadenceS: z.number().min(1).max(3600).default(60).describe('Seconds between two readings of each probe.'),
  benches: z.array(benchSchema).min(1, 'expected at least one bench').max(200),
  trays: z.array(traySchema).max(2000).default([]),
  probes: z.array(probeSchema).max(500).default([]),
  boards: z.array(boardSchema).max(16).default([]),
  notices: noticesSchema.prefault({}),
  messaging: messagingSchema.prefault({}),
  store: storeSchema.prefault({}),
  signOfLife: signOfLifeSchema
    .optional()
    .describe(
      'Told elsewhere that the monitor works, so that a dead machine is noticed by something that is not on it.',
    ),
  page: pageSchema.prefault({}),
});

type Shape = z.infer<typeof shape>;
type Report = (path: (string | number)[], message: string) => void;

function reportDoubles(list: readonly { id: string }[], name: string, report: Report): void {
  const seen = new Map<string, number>();
  list.forEach(({ id }, index) => {
    const before = seen.get(id);
    if (before !== undefined)
      report([name, index, 'id'], `"${id}" is taken by ${name}[${before}]; ids must differ`);
    else seen.set(id, index);
  });
}

function crossCheck(farm: Shape, report: Report): void {
  for (const name of ['benches', 'trays', 'probes', 'boards'] as const)
    reportDoubles(farm[name], name, report);
  const benches = new Set(farm.benches.map((bench) => bench.id));
  const trays = new Set(farm.trays.map((tray) => tray.id));
  const benchList = [...benches].join(', ');
  farm.trays.forEach((tray, index) => {
    if (!benches.has(tray.bench))
      report(['trays', index, 'bench'], `there is no bench "${tray.bench}"; benches are: ${benchList}`);
  });
  farm.probes.forEach((probe, index) => {
    if ('bench' in probe && !benches.has(probe.bench))
      report(['probes', index, 'bench'], `there is no bench "${probe.bench}"; benches are: ${benchList}`);
    if ('tray' in probe && probe.tray !== undefined && !trays.has(probe.tray))
      report(
        ['probes', index, 'tray'],
        `there is no tray "${probe.tray}"; add it under trays, or leave "tray" out and attach the probe by command`,
      );
  });
  checkHookups(farm.probes, farm.boards, report);
  if ((farm.latitude === undefined) !== (farm.longitude === undefined))
    report([farm.latitude === undefined ? 'latitude' : 'longitude'], 'give latitude and longitude together');
}

/**
 * Where a farm starts: one strict schema, unknown keys fail, all problems are reported at once. Trays come and go by command
 * afterwards, and the `attach` command carries a probe to another tray.
 */
export const farmConfigSchema = shape
  .superRefine((farm, context) => {
    crossCheck(farm, (path, message) => context.addIssue({ code: 'custom', path, message }));
  })
  .meta({ id: 'FarmConfig' });

export type FarmConfig = z.infer<typeof farmConfigSchema>;
