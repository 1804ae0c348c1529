import { toInstant } from './ids.js';

/** No number of a state but an instant is so large: epoch ms of April 1970 and of the year 2286. */
const LEAST_MS = 1e10;
const MOST_MS = 1e13;
const INSTANT = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)$/;

const isInstantMs = (value: number): boolean => value >= LEAST_MS && value < MOST_MS;

/**
 * A copy of plain data in which every instant, epoch ms or RFC 3339, lies `byMs` later: what was remembered by a clock that has been
 * set since. Objects of a class are handed back as they are.
 */
export function shiftedInstants(value: unknown, byMs: number): unknown {
  if (typeof value === 'number') return isInstantMs(value) ? value + byMs : value;
  if (typeof value === 'string') return INSTANT.test(value) ? toInstant(Date.parse(value) + byMs) : value;
  if (typeof value !== 'object' || value === null) return value;
  if (Array.isArray(value)) return value.map((entry) => shiftedInstants(entry, byMs));
  if (value instanceof Float64Array) return value.map((entry) => (isInstantMs(entry) ? entry + byMs : entry));
  if (value instanceof Map)
    return new Map(
      [...value].map(([key, entry]) => [shiftedInstants(key, byMs), shiftedInstants(entry, byMs)]),
    );
  if (Object.getPrototypeOf(value) !== Object.prototype) return value;
  return Object.fromEntries(Object.entries(value).map(([key, entry]) => [key, shiftedInstants(entry, byMs)]));
}
