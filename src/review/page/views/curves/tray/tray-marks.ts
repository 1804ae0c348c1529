import type uPlot from 'uplot';
import { S_PER_HOUR } from '../../../../../../shared/base/time-units.js';
import type { TrayCurveAnswer } from '../../../../../../shared/page/page-review.js';
import { writeOn } from '../../../draw/plot.js';

const HORIZON_H = 120;
const WATER_INK = '#0a4a70';
const CALL_INK = '#96180b';

/** The fan of one forecast: from the water content it began with to the refill point at p10, p50 and p90. */
export function drawFan(plot: uPlot, answer: TrayCurveAnswer, fan: number): void {
  const { forecasts, refillPointM3PerM3 } = answer;
  const madeS = forecasts.atS[fan];
  const water = forecasts.waterContentM3PerM3[fan];
  if (madeS === undefined || water === undefined || refillPointM3PerM3 === undefined) return;
  if (forecasts.p90H[fan] === 0) return;
  const { ctx } = plot;
  const x = (hours: number | null | undefined): number =>
    plot.valToPos(madeS + (hours ?? HORIZON_H) * S_PER_HOUR, 'x', true);
  const startX = plot.valToPos(madeS, 'x', true);
  const startY = plot.valToPos(water * 100, 'y', true);
  const endY = plot.valToPos(refillPointM3PerM3 * 100, 'y', true);
  ctx.save();
  ctx.beginPath();
  ctx.rect(plot.bbox.left, plot.bbox.top, plot.bbox.width, plot.bbox.height);
  ctx.clip();
  ctx.fillStyle = 'rgb(216 160 60 / 45%)';
  ctx.beginPath();
  ctx.moveTo(startX, startY);
  ctx.lineTo(x(forecasts.p10H[fan]), endY);
  ctx.lineTo(x(forecasts.p90H[fan]), endY);
  ctx.closePath();
  ctx.fill();
  ctx.strokeStyle = '#8a4b00';
  ctx.lineWidth = 2.5 * devicePixelRatio;
  ctx.beginPath();
  ctx.moveTo(startX, startY);
  ctx.lineTo(x(forecasts.p50H[fan]), endY);
  ctx.stroke();
  ctx.restore();
}

/** Full and refill as lines across, each with its word. */
export function drawLevels(
  plot: uPlot,
  answer: TrayCurveAnswer,
  words: { readonly full: string; readonly refill: string },
): void {
  const levels = [
    { value: answer.containerCapacityM3PerM3, name: words.full, ink: WATER_INK },
    { value: answer.refillPointM3PerM3, name: words.refill, ink: CALL_INK },
  ];
  const { ctx } = plot;
  for (const { value, name, ink } of levels) {
    if (value === undefined) continue;
    const y = Math.round(plot.valToPos(value * 100, 'y', true));
    ctx.save();
    ctx.strokeStyle = ink;
    ctx.lineWidth = devicePixelRatio * 1.5;
    ctx.setLineDash([10 * devicePixelRatio, 4 * devicePixelRatio]);
    ctx.beginPath();
    ctx.moveTo(plot.bbox.left, y);
    ctx.lineTo(plot.bbox.left + plot.bbox.width, y);
    ctx.stroke();
    ctx.restore();
    writeOn(plot, name, plot.bbox.left + 6 * devicePixelRatio, y, ink);
  }
}

/** Waterings as drops along the top, calls as bells along the bottom. */
export function drawMarks(plot: uPlot, answer: TrayCurveAnswer): void {
  const { ctx } = plot;
  const scale = devicePixelRatio;
  const inside = (x: number): boolean => x >= plot.bbox.left && x <= plot.bbox.left + plot.bbox.width;
  ctx.save();
  ctx.fillStyle = WATER_INK;
  for (const watering of answer.waterings) {
    const x = plot.valToPos(Date.parse(watering.at) / 1000, 'x', true);
    if (inside(x)) drop(ctx, x, plot.bbox.top + 9 * scale, scale);
  }
  for (const alarm of answer.alarms) {
    if (alarm.state !== 'unacknowledged') continue;
    const x = plot.valToPos(Date.parse(alarm.at) / 1000, 'x', true);
    if (inside(x)) bell(ctx, x, plot.bbox.top + plot.bbox.height - 9 * scale, scale);
  }
  ctx.restore();
}

function drop(ctx: CanvasRenderingContext2D, x: number, y: number, scale: number): void {
  ctx.beginPath();
  ctx.moveTo(x, y - 8 * scale);
  ctx.bezierCurveTo(x + 7 * scale, y, x + 5 * scale, y + 6 * scale, x, y + 6 * scale);
  ctx.bezierCurveTo(x - 5 * scale, y + 6 * scale, x - 7 * scale, y, x, y - 8 * scale);
  ctx.fill();
}

function bell(ctx: CanvasRenderingContext2D, x: number, y: number, scale: number): void {
  ctx.save();
  ctx.fillStyle = CALL_INK;
  ctx.beginPath();
  ctx.arc(x, y + 6 * scale, 2 * scale, 0, 2 * Math.PI);
  ctx.fill();
  ctx.beginPath();
  ctx.moveTo(x - 7 * scale, y + 4 * scale);
  ctx.quadraticCurveTo(x - 5 * scale, y - 8 * scale, x, y - 8 * scale);
  ctx.quadraticCurveTo(x + 5 * scale, y - 8 * scale, x + 7 * scale, y + 4 * scale);
  ctx.closePath();
  ctx.fill();
  ctx.restore();
}
