import type { DeliveredUnit } from '../../../shared/config/kit/delivered.js';
import type { HookupOf } from '../../../shared/config/kit/hookup.js';
import { atPointer } from './json-pointer.js';

/** What one message holds for one probe. */
export type DeliveryReading =
  | { readonly kind: 'not-mine' }
  | { readonly kind: 'unreadable'; readonly reason: string }
  | {
      readonly kind: 'reading';
      /** In the probe's raw unit. */
      readonly value: number;
      /** The reading's own time. */
      readonly atMs: number | undefined;
      readonly battery: number | undefined;
      readonly signalDbm: number | undefined;
    };

const shownChars = 40;

/** Finds a probe's number in a message. Never throws: what radios send is anybody's guess. */
export function readDelivery(hookup: HookupOf<'delivered'>, text: string): DeliveryReading {
  const { path = '', where, timePath, batteryPath, signalPath } = hookup;
  const document = parsed(text);
  if (document === undefined)
    return { kind: 'unreadable', reason: `what came is no JSON and no number: ${shown(text)}` };
  if (Object.entries(where).some(([pointer, wanted]) => atPointer(document, pointer) !== wanted))
    return { kind: 'not-mine' };
  const found = asNumber(atPointer(document, path));
  const value = found === undefined ? undefined : finite(inRawUnit(found, hookup.unit));
  if (value === undefined)
    return {
      kind: 'unreadable',
      reason: `what came has no number at "${path}": ${shown(text)}`,
    };
  const at = timePath === undefined ? undefined : atPointer(document, timePath);
  const atMs = at === undefined ? undefined : timeMs(at);
  if (timePath !== undefined && atMs === undefined)
    return { kind: 'unreadable', reason: `what came has no time at "${timePath}": ${shown(text)}` };
  return {
    kind: 'reading',
    value,
    atMs,
    battery: batteryPath === undefined ? undefined : asNumber(atPointer(document, batteryPath)),
    signalDbm: signalPath === undefined ? undefined : asNumber(atPointer(document, signalPath)),
  };
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch (cause) {
    if (cause instanceof SyntaxError) return undefined;
    throw cause;
  }
}

/** Numbers, and numbers that a template has put into quotes. */
function asNumber(found: unknown): number | undefined {
  if (typeof found === 'number') return finite(found);
  if (typeof found !== 'string' || !/^\s*[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?\s*$/i.test(found))
    return undefined;
  return finite(Number(found));
}

/** Too large a number, 1e999, reads as infinite; that is no number that a probe measures. */
function finite(number: number): number | undefined {
  return Number.isFinite(number) ? number : undefined;
}

/** Epoch seconds until about the year 5000 are smaller than this, and epoch milliseconds since 1973 larger. */
const secondsBelow = 1e11;
/** The last instant that a Date can hold (ECMA-262 §21.4.1.1). */
const latestMs = 8.64e15;

function timeMs(given: unknown): number | undefined {
  const number = asNumber(given);
  if (number !== undefined) {
    const atMs = number < secondsBelow ? number * 1000 : number;
    return Math.abs(atMs) <= latestMs ? atMs : undefined;
  }
  if (typeof given !== 'string' || !/^\d{4}-\d\d-\d\d[Tt ]\d\d:\d\d.*([Zz]|[+-]\d\d:?\d\d)$/.test(given))
    return undefined;
  const at = Date.parse(given);
  return Number.isNaN(at) ? undefined : at;
}

const zeroCelsiusK = 273.15;

/** One conversion, once, at the rim. */
function inRawUnit(given: number, unit: DeliveredUnit | undefined): number {
  switch (unit) {
    case 'degF':
      return ((given - 32) * 5) / 9;
    case 'K':
      return given - zeroCelsiusK;
    case '/':
      return given * 100;
    case 'mV':
      return given / 1000;
    case 'kg':
      return given * 1000;
    default:
      return given;
  }
}

function shown(text: string): string {
  const line = text.replace(/[^\x20-\x7e]+/g, ' ').trim();
  return line.length > shownChars ? `"${line.slice(0, shownChars)}…"` : `"${line}"`;
}
