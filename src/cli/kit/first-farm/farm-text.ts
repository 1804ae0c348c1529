import type { FarmConfig } from '../../../../shared/config/farm.js';
import { type ConfigChange, withChanges } from '../../config/change-config.js';
import { farmFindings } from '../../config/farm-rules.js';
import { kitFindings } from '../../config/kit-findings.js';
import { parseConfig } from '../../config/load-config.js';
import { type FirstFarm, firstConfigText, jsonLine } from '../../config/write-config.js';
import { BadWord } from '../../terminal/typed/bad-word.js';

/** What init knows of a farm that has a configuration. */
export function farmOf(config: FarmConfig): FirstFarm {
  const { farm, timeZone, latitude, longitude, rounds, language, units, benches } = config;
  const limits = new Set(benches.map(({ temperatureLimitsC }) => jsonLine(temperatureLimitsC ?? {})));
  const first = benches[0]?.temperatureLimitsC;
  const isWhole = limits.size === 1 && first?.low !== undefined && first.high !== undefined;
  const none = limits.size === 1 && first === undefined;
  return {
    farm,
    timeZone,
    place: latitude === undefined || longitude === undefined ? undefined : { latitude, longitude },
    rounds,
    language,
    units,
    benches: benches.map(({ id }) => id),
    limitsC: none ? undefined : isWhole ? { low: first?.low ?? 0, high: first?.high ?? 0 } : 'various',
    boards: [],
    probes: [],
  };
}

function benchChanges(config: FarmConfig, before: FirstFarm, after: FirstFarm): ConfigChange[] {
  const isSame = jsonLine([before.benches, before.limitsC]) === jsonLine([after.benches, after.limitsC]);
  if (isSame) return [];
  const known = new Map(config.benches.map((bench, index) => [bench.id, index]));
  const kept = after.benches.filter((id) => known.has(id));
  const limits = typeof after.limitsC === 'object' ? { temperatureLimitsC: after.limitsC } : {};
  // from behind, so that an index means the same bench until it is its turn
  const gone = config.benches
    .map(({ id }, index) => ({ id, index }))
    .filter(({ id }) => !after.benches.includes(id))
    .reverse()
    .map(({ index }) => ({ path: ['benches', index], value: undefined }));
  const limited =
    after.limitsC === 'various'
      ? []
      : kept.map((id) => ({
          path: ['benches', known.get(id) ?? 0, 'temperatureLimitsC'],
          value: after.limitsC,
        }));
  const fresh = after.benches
    .filter((id) => !known.has(id))
    .map((id, index) => ({ path: ['benches', kept.length + index], value: { id, ...limits } }));
  return [...limited, ...gone, ...fresh];
}

function changesOf(config: FarmConfig, before: FirstFarm, after: FirstFarm): ConfigChange[] {
  const plain = (['farm', 'timeZone', 'rounds', 'language', 'units'] as const)
    .filter((key) => jsonLine(before[key]) !== jsonLine(after[key]))
    .map((key) => ({ path: [key], value: after[key] }));
  const place =
    jsonLine(before.place ?? null) === jsonLine(after.place ?? null)
      ? []
      : (['latitude', 'longitude'] as const).map((key) => ({ path: [key], value: after.place?.[key] }));
  const added = (list: 'boards' | 'probes'): ConfigChange[] =>
    after[list].map((value, index) => ({ path: [list, config[list].length + index], value }));
  return [...plain, ...place, ...benchChanges(config, before, after), ...added('boards'), ...added('probes')];
}

/** A configuration that init may write: a new one, or one that is there, changed. */
export interface FarmText {
  /** A configuration is there and is changed. */
  readonly isThere: boolean;
  /** What stands at the beginning. */
  readonly farm: FirstFarm;
  /** Text of the configuration for this farm. */
  write(farm: FirstFarm): string;
}

export function newText(farm: FirstFarm): FarmText {
  return { isThere: false, farm, write: firstConfigText };
}

/** @param text of a configuration that fits */
export function changedText(text: string, file: string): FarmText {
  const config = parseConfig(text, file);
  const before = farmOf(config);
  return {
    isThere: true,
    farm: before,
    write: (after) => withChanges(text, changesOf(config, before, after)),
  };
}

/** What `check` would say against a farm without trying anything. */
function complaints(text: string, file: string, nowMs: number): readonly string[] {
  const config = parseConfig(text, file);
  return [...farmFindings(config, nowMs), ...kitFindings(config)]
    .filter(({ ok }) => !ok)
    .map(({ sentence }) => sentence);
}

/**
 * The text for a farm, once it is known that `check` will pass it; what was not well before is not held against it.
 * @throws ConfigError or BadWord, with what does not fit
 */
export function fittingText(target: FarmText, farm: FirstFarm, file: string, nowMs: number): string {
  const text = target.write(farm);
  const before = complaints(target.write(target.farm), file, nowMs);
  const [fresh] = complaints(text, file, nowMs).filter((one) => !before.includes(one));
  if (fresh !== undefined) throw new BadWord(fresh);
  return text;
}
