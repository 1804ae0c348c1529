import type { LevelScale } from '../experts/reading-course.js';
import { LEAST_SPAN } from '../filter/belief.js';
import { LOCAL } from '../filter/layout.js';
import { meanLocal, type TrayState } from '../filter/tray-state.js';

/** A tray's levels as they are believed. */
export function scaleOf(tray: TrayState): LevelScale {
  const refill = meanLocal(tray, LOCAL.refill);
  return { refill, span: Math.max(LEAST_SPAN, meanLocal(tray, LOCAL.capacity) - refill) };
}
