import { readFileSync } from 'node:fs';
import type { z } from 'zod';
import { plainIssue } from '../../../shared/base/plain-issue.js';
import { type FarmConfig, farmConfigSchema } from '../../../shared/config/farm.js';
import { fileTrouble } from '../../host/disk/file-trouble.js';
import { calibrationLevels } from '../../sensing/calibration/calibration-points.js';
import { type ConfigProblem, type JsonText, placeText, readJsonText } from './json-text.js';
import { withStorePlaced } from './service-place.js';

/** The configuration can't be used. `problems` holds all of them, one clear message each. */
export class ConfigError extends Error {
  readonly code = 'config-unusable';
  readonly retryable = false;
  constructor(
    readonly file: string,
    readonly problems: readonly ConfigProblem[],
    options?: ErrorOptions,
  ) {
    super(
      problems
        .map(({ at, where, message }) =>
          [file, at && placeText(at), where, message]
            .filter((part) => part !== undefined && part !== '')
            .join(': '),
        )
        .join('\n'),
      options,
    );
    this.name = 'ConfigError';
  }
}

/** A problem by its path in the configuration. */
interface PathProblem {
  readonly path: readonly PropertyKey[];
  readonly message: string;
}

function issueProblems(issue: z.core.$ZodIssue, within: readonly PropertyKey[] = []): PathProblem[] {
  const path = [...within, ...issue.path];
  if (issue.code === 'invalid_union' && issue.errors.length > 0) {
    const closest = [...issue.errors].sort(
      (a, b) => b.flatMap((e) => e.path).length - a.flatMap((e) => e.path).length,
    )[0];
    if (closest !== undefined && closest.length > 0)
      return closest.flatMap((inner) => issueProblems(inner, path));
  }
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.map((key) => ({
      path: [...path, key],
      message: 'unknown key; check its spelling, or take it out',
    }));
  }
  return [{ path, message: plainIssue(issue) }];
}

/** Calibrations that no monotone curve goes through. */
function calibrationProblems(farm: FarmConfig): PathProblem[] {
  return farm.probes.flatMap((probe, index) => {
    if (probe.kind !== 'block-moisture' || probe.calibration === undefined) return [];
    const fit = calibrationLevels(probe.calibration);
    return fit.ok ? [] : [{ path: ['probes', index, 'calibration'], message: fit.problem.message }];
  });
}

function placed(problems: readonly PathProblem[], json: JsonText): ConfigProblem[] {
  return problems.map(({ path, message }) => ({
    at: json.placeOf(path),
    where: json.nameOf(path),
    message,
  }));
}

/** A farm's configuration, and where in its text each part stands. */
export interface PlacedConfig {
  readonly farm: FarmConfig;
  readonly json: JsonText;
}

/**
 * A farm's configuration from text: JSON, comments and trailing commas allowed. All problems are reported at once.
 * Throws ConfigError.
 */
export function parsePlacedConfig(text: string, file: string): PlacedConfig {
  const json = readJsonText(text);
  if (!('value' in json)) throw new ConfigError(file, json);
  const result = farmConfigSchema.safeParse(json.value);
  const problems = result.success
    ? calibrationProblems(result.data)
    : result.error.issues.flatMap((issue) => issueProblems(issue));
  if (problems.length > 0 || !result.success) throw new ConfigError(file, placed(problems, json));
  return { farm: result.data, json };
}

/** As parsePlacedConfig, without the places. */
export function parseConfig(text: string, file: string): FarmConfig {
  return parsePlacedConfig(text, file).farm;
}

const unreadable: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file; give the path of your configuration with --config',
  EISDIR: 'is a folder; give the path of the configuration in it',
  ERR_ENCODING_INVALID_ENCODED_DATA: 'is not UTF-8 text; save it as UTF-8',
};

/** Reads and checks a configuration file; the store's folder comes out absolute. Throws ConfigError, also when the file can't be read. */
export function loadPlacedConfig(file: string): PlacedConfig {
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(readFileSync(file));
  } catch (cause) {
    const code = cause instanceof Error && 'code' in cause ? cause.code : undefined;
    const message = unreadable[String(code)] ?? `can't be read: ${fileTrouble(cause)}`;
    throw new ConfigError(file, [{ where: '', message }], { cause });
  }
  const { farm, json } = parsePlacedConfig(text, file);
  return { farm: withStorePlaced(farm, file), json };
}

/** As loadPlacedConfig, without the places. */
export function loadConfig(file: string): FarmConfig {
  return loadPlacedConfig(file).farm;
}
