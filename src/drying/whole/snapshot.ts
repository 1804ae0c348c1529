import type { KeptDocument, Older } from '../../../shared/base/kept-document.js';
import type { FarmMemory } from '../filter/farm-state.js';
import { SharedState } from '../filter/shared-state.js';

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
  return { version: modelDocument.version, memory: encode(memory) };
}

/** Every object of a snapshot, changed where `change` knows it: for steps that give a new key its first value. */
function everyObject(json: unknown, change: (object: Older) => Older): unknown {
  if (Array.isArray(json)) return json.map((entry) => everyObject(entry, change));
  if (typeof json !== 'object' || json === null) return json;
  const entries = Object.entries(json).map(([key, entry]) => [key, everyObject(entry, change)] as const);
  return change(Object.fromEntries(entries));
}

/** Beliefs know since version 5 how far gone their blocks were. */
function withShedding({ memory }: Older): Older {
  const isBelief = (object: Older) => 'mean' in object && 'covariance' in object && object['$'] === undefined;
  return {
    memory: everyObject(memory, (object) => (isBelief(object) ? { shedding: 0, ...object } : object)),
  };
}

/** The model's memory as JSON. Its version is raised with its shape; versions 1 to 3 are built anew from what the store has. */
export const modelDocument: KeptDocument<FarmMemory> = {
  name: "The model's state",
  version: 5,
  steps: { 4: withShedding },
  read: ({ memory: json }) => {
    const memory = decode((json ?? null) as Json) as FarmMemory;
    const whole =
      memory.shared instanceof SharedState &&
      memory.benches instanceof Map &&
      memory.trays instanceof Map &&
      memory.trayOfProbe instanceof Map &&
      Array.isArray(memory.pending);
    return whole ? memory : undefined;
  },
};
