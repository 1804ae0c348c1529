import { DAYS_PER_WEEK, HOURS_PER_DAY, MS_PER_HOUR, MS_PER_MIN } from '../../../shared/base/time-units.js';
import type { Command } from '../../../shared/wire/command.js';
import { type Refused, refused } from './outcome.js';

/** Phones and boards may be this far ahead of us. */
const CLOCK_AHEAD_MS = 5 * MS_PER_MIN;
/** Sowing and germination are often entered late. */
const LATEST_OF_LIFE_DAYS = 400;
/** How long ago each thing may have happened and still be told, hours. */
const LATEST_TOLD_H: Readonly<Partial<Record<Command['do'], number>>> = {
  'new-tray': LATEST_OF_LIFE_DAYS * HOURS_PER_DAY,
  sown: LATEST_OF_LIFE_DAYS * HOURS_PER_DAY,
  germinated: LATEST_OF_LIFE_DAYS * HOURS_PER_DAY,
  watered: 2 * HOURS_PER_DAY,
  'round-done': HOURS_PER_DAY,
  looked: HOURS_PER_DAY,
  weighed: HOURS_PER_DAY,
  'ready-for-water': HOURS_PER_DAY,
};
const USUAL_LATEST_H = DAYS_PER_WEEK * HOURS_PER_DAY;

/** When a command says that it happened; now when it does not say. Refused in the future or too long ago to be used. */
export function toldAtMs(command: Command, nowMs: number): number | Refused {
  if (!('at' in command) || command.at === undefined) return nowMs;
  const atMs = Date.parse(command.at);
  if (atMs > nowMs + CLOCK_AHEAD_MS) return refused('time-in-future', ['timeToCome', atMs, nowMs]);
  const latestH = LATEST_TOLD_H[command.do] ?? USUAL_LATEST_H;
  if (atMs < nowMs - latestH * MS_PER_HOUR)
    return refused('time-too-long-ago', ['tooLongAgo', atMs, nowMs, command.do, latestH]);
  return Math.min(atMs, nowMs);
}
