import type { FarmMemory } from './farm-state.js';
import { SharedState } from './filter/shared-state.js';

/** Raised whenever the shape of the memory changes; a snapshot of another version is not read. */
const SNAPSHOT_VERSION = 5;

type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

/** Plain JSON for the memory's values; typed arrays, maps and non-finite numbers are tagged so that they come back. */
function encode(value: unknown): Json {
  if (value === undefined) return { $: 'undefined' };
  if (value === null || typeof value === 'boolean' || typeof value === 'string') return value;
  if (typeof value === 'number') return Number.isFinite(value) ? value : { $: 'number', of: String(value) };
  if (value instanceof Float64Array) return { $: 'f64', of: Array.from(value, encode) };
  if (value instanceof Int32Array) return { $: 'i32', of: Array.from(value) };
  if (value instanceof Map)
    return { $: 'map', of: [...value].map(([key, entry]) => [encode(key), encode(entry)]) };
  if (value instanceof SharedState)
    return {
      $: 'shared',
      components: encode(value.components),
      mean: encode(value.mean),
      covariance: encode(value.covariance),
    };
  if (Array.isArray(value)) return value.map(encode);
  return Object.fromEntries(Object.entries(value as object).map(([key, entry]) => [key, encode(entry)]));
}

function decode(json: Json): unknown {
  if (json === null || typeof json !== 'object') return json;
  if (Array.isArray(json)) return json.map(decode);
  const of = json['of'] ?? null;
  switch (json['$']) {
    case 'undefined':
      return undefined;
    case 'number':
      return Number(of);
    case 'f64':
      return Float64Array.from((decode(of) as number[]) ?? []);
    case 'i32':
      return Int32Array.from((of as number[]) ?? []);
    case 'map':
      return new Map((of as Json[][]).map(([key, entry]) => [decode(key ?? null), decode(entry ?? null)]));
    case 'shared': {
      const shared = new SharedState();
      for (const component of decode(json['components'] ?? []) as SharedState['components'])
        shared.ensure(component);
      shared.mean = decode(json['mean'] ?? null) as Float64Array<ArrayBuffer>;
      shared.covariance = decode(json['covariance'] ?? null) as Float64Array<ArrayBuffer>;
      return shared;
    }
    default:
      return Object.fromEntries(Object.entries(json).map(([key, entry]) => [key, decode(entry)]));
  }
}

export function snapshotOf(memory: FarmMemory): unknown {
  return { version: SNAPSHOT_VERSION, memory: encode(memory) };
}

/** The memory of a snapshot; undefined when it is none of ours or of another version: the model then starts anew. */
export function memoryOf(snapshot: unknown): FarmMemory | undefined {
  if (
    typeof snapshot !== 'object' ||
    snapshot === null ||
    !('version' in snapshot) ||
    !('memory' in snapshot)
  )
    return undefined;
  if (snapshot.version !== SNAPSHOT_VERSION) return undefined;
  try {
    const memory = decode(snapshot.memory as Json) as FarmMemory;
    const whole =
      memory.shared instanceof SharedState &&
      memory.benches instanceof Map &&
      memory.trays instanceof Map &&
      memory.trayOfProbe instanceof Map &&
      Array.isArray(memory.pending);
    return whole ? memory : undefined;
  } catch (cause) {
    if (cause instanceof TypeError || cause instanceof RangeError) return undefined;
    throw cause;
  }
}
