import type { LevelScale } from '../experts/reading-course.js';
import { LOCAL } from '../filter/layout.js';
import { meanLocal, type TrayState } from '../filter/tray-state.js';

/** Least span between refill point and capacity, m³/m³. */
const LEAST_SPAN = 0.05;

/** A tray's levels as they are believed. */
export function scaleOf(tray: TrayState): LevelScale {
  const refill = meanLocal(tray, LOCAL.refill);
  return { refill, span: Math.max(LEAST_SPAN, meanLocal(tray, LOCAL.capacity) - refill) };
}
