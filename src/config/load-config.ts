import { readFileSync } from 'node:fs';
import { type ParseError, parse, printParseErrorCode } from 'jsonc-parser';
import type { z } from 'zod';
import { type FarmConfig, farmConfigSchema } from '../../shared/config/farm.js';
import { calibrationLevels } from '../sensing/calibration/calibration-points.js';

/** One thing that is wrong with a configuration: where, what was expected, what to do. */
export interface ConfigProblem {
  readonly where: string;
  readonly message: string;
}

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
        .map(({ where, message }) => `${file}: ${where === '' ? '' : `${where}: `}${message}`)
        .join('\n'),
      options,
    );
    this.name = 'ConfigError';
  }
}

function lineAndColumn(text: string, offset: number): string {
  const before = text.slice(0, offset).split('\n');
  return `line ${before.length}, column ${(before.at(-1)?.length ?? 0) + 1}`;
}

const syntaxWords: Readonly<Record<string, string>> = {
  InvalidSymbol: 'a word that JSON does not know; text goes between double quotes',
  InvalidNumberFormat: 'a number was expected',
  PropertyNameExpected: 'a key between double quotes was expected',
  ValueExpected: 'a value was expected',
  ColonExpected: 'a colon was expected after the key',
  CommaExpected: 'a comma was expected between two entries',
  CloseBraceExpected: 'a closing } is missing',
  CloseBracketExpected: 'a closing ] is missing',
  EndOfFileExpected: 'nothing was expected after the end of the configuration',
  UnexpectedEndOfComment: 'a comment is not closed',
  UnexpectedEndOfString: 'a closing double quote is missing',
  InvalidEscapeCharacter: 'an unknown \\ escape; write \\\\ for a backslash',
};

function syntaxProblem(text: string, error: ParseError): ConfigProblem {
  const name = printParseErrorCode(error.error);
  return {
    where: lineAndColumn(text, error.offset),
    message: syntaxWords[name] ?? `not valid JSON (${name})`,
  };
}

/** `trays[0].blockSideMm` from a zod path. */
export function pathText(path: readonly PropertyKey[]): string {
  return path.reduce<string>(
    (text, key) =>
      typeof key === 'number' ? `${text}[${key}]` : text === '' ? String(key) : `${text}.${String(key)}`,
    '',
  );
}

function plainMessage(message: string): string {
  const words = message.replace(/^Invalid input: /, '').replace(/\barray\b/g, 'list');
  return words.endsWith(', received undefined')
    ? `is missing; ${words.replace(', received undefined', '')}`
    : words;
}

function issueProblems(issue: z.core.$ZodIssue, within: readonly PropertyKey[] = []): ConfigProblem[] {
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
      where: pathText([...path, key]),
      message: 'unknown key; check its spelling, or take it out',
    }));
  }
  return [{ where: pathText(path), message: plainMessage(issue.message) }];
}

/** Calibrations that no monotone curve goes through. */
function calibrationProblems(farm: FarmConfig): ConfigProblem[] {
  return farm.probes.flatMap((probe, index) => {
    if (probe.kind !== 'block-moisture' || probe.calibration === undefined) return [];
    const fit = calibrationLevels(probe.calibration);
    return fit.ok ? [] : [{ where: `probes[${index}].calibration`, message: fit.problem.message }];
  });
}

/**
 * A farm's configuration from text: JSON, comments and trailing commas allowed. All problems are reported at once.
 * Throws ConfigError.
 */
export function parseConfig(text: string, file: string): FarmConfig {
  const errors: ParseError[] = [];
  const raw: unknown = parse(text.replace(/^\uFEFF/, ''), errors, {
    allowTrailingComma: true,
    disallowComments: false,
  });
  if (errors.length > 0)
    throw new ConfigError(
      file,
      errors.map((error) => syntaxProblem(text, error)),
    );
  const result = farmConfigSchema.safeParse(raw);
  if (!result.success)
    throw new ConfigError(
      file,
      result.error.issues.flatMap((issue) => issueProblems(issue)),
    );
  const unfit = calibrationProblems(result.data);
  if (unfit.length > 0) throw new ConfigError(file, unfit);
  return result.data;
}

const unreadable: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file; give the path of your configuration with --config',
  EISDIR: 'is a folder; give the path of the configuration in it',
  EACCES: 'may not be read by this user; mend its permissions',
  ERR_ENCODING_INVALID_ENCODED_DATA: 'is not UTF-8 text; save it as UTF-8',
};

/** Reads and checks a configuration file. Throws ConfigError, also when the file can't be read. */
export function loadConfig(file: string): FarmConfig {
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(readFileSync(file));
  } catch (cause) {
    const code = cause instanceof Error && 'code' in cause ? cause.code : undefined;
    const message =
      unreadable[String(code)] ??
      `can't be read (${String(code ?? cause)}); check the path and its permissions`;
    throw new ConfigError(file, [{ where: '', message }], { cause });
  }
  return parseConfig(text, file);
}
