import type { Command } from '../../../shared/wire/command.js';
import { MS_PER_HOUR, MS_PER_MIN } from '../desk/desk.js';
import { type Refused, refused } from './outcome.js';

/** Phones and boards may be this far ahead of us. */
const CLOCK_AHEAD_MS = 5 * MS_PER_MIN;
const DAY_H = 24;
/** How long ago each thing may have happened and still be told, hours. Sowing and germination are often entered late. */
const LATEST_TOLD_H: Readonly<Partial<Record<Command['do'], number>>> = {
  'new-tray': 400 * DAY_H,
  sown: 400 * DAY_H,
  germinated: 400 * DAY_H,
  watered: 2 * DAY_H,
  'round-done': DAY_H,
  looked: DAY_H,
  weighed: DAY_H,
  'ready-for-water': DAY_H,
};
const USUAL_LATEST_H = 7 * DAY_H;

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
