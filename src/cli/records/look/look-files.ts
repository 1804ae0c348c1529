import { once } from 'node:events';
import { createWriteStream, existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { toInstant } from '../../../../shared/base/ids.js';
import { type FarmConfig, farmConfigSchema } from '../../../../shared/config/farm.js';
import { farmZone } from '../../../worlds/look/cells/farm-zone.js';
import { LookError } from '../../../worlds/look/cells/look-error.js';
import { type FileFarm, farmOfFile } from '../../../worlds/look/farm-of-file.js';
import { joinFiles, type LookedFile } from '../../../worlds/look/read-files.js';
import type { FoundSeries } from '../../../worlds/look/recognise.js';
import type { ReplaySummary } from '../../../worlds/replay/results.js';
import { replayIntoStore } from './replay-into-store.js';

/** A folder in which a file became a farm with a history: configuration, readings, results and store. */
export interface LookedFarm {
  readonly folder: string;
  readonly storeFolder: string;
  readonly config: FarmConfig;
  readonly farm: FileFarm;
  readonly series: readonly FoundSeries[];
  readonly summary: ReplaySummary;
  readonly fromMs: number;
  readonly toMs: number;
  readonly isKept: boolean;
  /** Takes the folder away unless it is to be kept. */
  remove(): void;
}

export interface LookFilesOptions {
  /** Of the logger's clock. */
  readonly zone: string;
  readonly machineZone: string;
  readonly blockSideMm: number;
  /** Folder to keep it all in; a temporary one when absent. */
  readonly keep?: string | undefined;
  readonly onProgress?: ((share: number) => void) | undefined;
}

const CONFIG_NAME = 'drybell.jsonc';
const LINES_AT_ONCE = 4096;

async function writeReadings(path: string, farm: FileFarm): Promise<void> {
  const out = createWriteStream(path);
  let lines: string[] = ['time,probe,value'];
  const put = async (): Promise<void> => {
    if (!out.write(`${lines.join('\n')}\n`)) await once(out, 'drain');
    lines = [];
  };
  for (const { probeId, atMs, values } of farm.probes)
    for (let i = 0; i < atMs.length; i++) {
      lines.push(`${toInstant(atMs[i] ?? 0)},${probeId},${Number((values[i] ?? 0).toPrecision(7))}`);
      if (lines.length >= LINES_AT_ONCE) await put();
    }
  await put();
  out.end();
  await once(out, 'finish');
}

function configText(farm: FileFarm): string {
  return `// Made from a logger's file. What it could not say was taken: look at the blocks' size and number, the bench, the rounds;
// name the trays as you call them, and give the probes their "hookup" when a board reads them.
${JSON.stringify(farm.config, null, 2)}
`;
}

function folderFor(keep: string | undefined): string {
  if (keep === undefined) return mkdtempSync(join(tmpdir(), 'drybell-look-'));
  if (existsSync(join(keep, CONFIG_NAME)) || existsSync(join(keep, 'data')))
    throw new LookError(
      'bad-option',
      `--keep ${keep}: there is a farm in this folder already; name a new one`,
    );
  mkdirSync(keep, { recursive: true });
  return keep;
}

/** Makes a farm of recognised files and plays them into a store of its own. */
export async function lookFiles(
  files: readonly LookedFile[],
  options: LookFilesOptions,
): Promise<LookedFarm> {
  const series = joinFiles(files);
  const [fromMs, toMs] = spanOf(series);
  const farm = farmOfFile(series, {
    timeZone: farmZone(options.zone, options.machineZone, fromMs, toMs),
    blockSideMm: options.blockSideMm,
    farm: 'from-a-file',
  });
  const config = farmConfigSchema.parse(farm.config);
  const folder = folderFor(options.keep);
  const remove = (): void => {
    if (options.keep === undefined) rmSync(folder, { recursive: true, force: true });
  };
  try {
    writeFileSync(join(folder, CONFIG_NAME), configText(farm));
    const readingsFile = join(folder, 'readings.csv');
    await writeReadings(readingsFile, farm);
    const storeFolder = join(folder, 'data');
    const summary = await replayIntoStore(
      {
        config,
        readingsFile,
        outFolder: join(folder, 'results'),
        onReject: () => undefined,
        ...(options.onProgress === undefined ? {} : { onProgress: options.onProgress }),
      },
      storeFolder,
    );
    return {
      folder,
      storeFolder,
      config,
      farm,
      series,
      summary,
      fromMs,
      toMs,
      isKept: options.keep !== undefined,
      remove,
    };
  } catch (error) {
    remove();
    throw error;
  }
}

/** First and last instant of any series. */
export function spanOf(series: readonly FoundSeries[]): readonly [number, number] {
  const firsts = series.map(({ atMs }) => atMs[0] ?? Number.POSITIVE_INFINITY);
  const lasts = series.map(({ atMs }) => atMs.at(-1) ?? Number.NEGATIVE_INFINITY);
  return [Math.min(...firsts), Math.max(...lasts)];
}
