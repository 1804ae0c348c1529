import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { sizeInk } from '../../src/review/page/draw/size-inks.js';
import { soilColour } from '../../src/review/page/draw/trays/soil-colour.js';
import { blocksPath, trayGrid } from '../../src/review/page/draw/trays/tray-grid.js';
import { nextTrayName } from '../../src/review/page/views/tray/new/next-tray-name.js';

/** Relative luminance of WCAG 2.2. */
function luminance([red, green, blue]: readonly number[]): number {
  const linear = [red, green, blue].map((channel = 0) => {
    const share = channel / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * (linear[0] ?? 0) + 0.7152 * (linear[1] ?? 0) + 0.0722 * (linear[2] ?? 0);
}

function channels(colour: string): number[] {
  const hex = /^#([0-9a-f]{6})$/i.exec(colour)?.[1];
  return hex === undefined
    ? (colour.match(/\d+/g) ?? []).slice(0, 3).map(Number)
    : [0, 2, 4].map((at) => Number.parseInt(hex.slice(at, at + 2), 16));
}

/** Contrast ratio of WCAG 2.2, 1 to 21. */
function contrast(one: string, other: string): number {
  const [low = 0, high = 0] = [luminance(channels(one)), luminance(channels(other))].sort((a, b) => a - b);
  return (high + 0.05) / (low + 0.05);
}

const css = readFileSync(join(import.meta.dirname, '../../src/review/page/styles/palettes.css'), 'utf8');
const [DAY = '', SUN = '', NIGHT = ''] = css.split(/:root[^{]*\{/).slice(1);
/** A colour in one of the lights; what a light does not say is as by day. */
const tokenIn = (light: string, name: string): string =>
  [light, DAY].map((text) => new RegExp(`--${name}: (#[0-9a-f]{6});`).exec(text)?.[1]).find(Boolean) ?? '';

describe('colours in bright sun', () => {
  it('contrast() gives 21 for black on white (WCAG 2.2)', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6);
  });

  it.each([
    ['ink', 'paper'],
    ['ink', 'paper-deep'],
    ['ink', 'field'],
    ['ink-soft', 'paper'],
    ['ink-soft', 'paper-deep'],
    ['water', 'paper'],
    ['water', 'paper-deep'],
    ['leaf', 'paper'],
    ['call', 'paper'],
    ['call', 'call-pale'],
    ['ink', 'call-pale'],
    ['on-sign', 'sign'],
    ['on-strong', 'call'],
    ['on-strong', 'call-deep'],
    ['on-strong', 'water'],
    ['on-strong', 'water-deep'],
    ['on-strong', 'leaf'],
    ['on-strong', 'leaf-deep'],
    ['paper', 'ink'],
  ])('%s on %s stands at 7:1 or more by day, in the sun and at night (WCAG 2.2 AAA)', (front, back) => {
    for (const light of [DAY, SUN, NIGHT])
      expect(contrast(tokenIn(light, front), tokenIn(light, back))).toBeGreaterThanOrEqual(7);
  });

  it('soilColour() falls in lightness from dry to full, so that it reads without colour vision', () => {
    const indexes = [-0.3, -0.1, 0, 0.2, 0.4, 0.6, 0.8, 1];
    const lights = indexes.map((index) => luminance(channels(soilColour(index))));
    expect(lights).toEqual([...lights].sort((a, b) => b - a));
    expect(soilColour(2)).toBe(soilColour(1));
    expect(soilColour(undefined)).not.toBe(soilColour(0.5));
  });

  it('lines of the first three sizes differ in stroke as well as in ink', () => {
    const strokes = [0, 1, 2].map((place) => sizeInk(place).dash.join());
    expect(new Set(strokes).size).toBe(3);
    for (const place of [0, 1, 2])
      for (const light of [DAY, SUN, NIGHT])
        expect(contrast(sizeInk(place).line, tokenIn(light, 'sheet'))).toBeGreaterThan(4.5);
  });
});

describe('a tray drawn to scale', () => {
  it('trayGrid() lays the usual counts without a gap', () => {
    expect(trayGrid(280)).toEqual({ columns: 20, rows: 14 });
    expect(trayGrid(72)).toEqual({ columns: 9, rows: 8 });
    expect(trayGrid(48)).toEqual({ columns: 8, rows: 6 });
    expect(trayGrid(1)).toEqual({ columns: 1, rows: 1 });
  });

  it('blocksPath() draws each block once, none outside the tray', () => {
    for (const [count, side] of [
      [280, 19],
      [72, 38],
      [48, 51],
      [7, 300],
    ] as const) {
      const path = blocksPath(count, side);
      expect(path.match(/M/g)).toHaveLength(count);
      const corners = [...path.matchAll(/M([\d.]+) ([\d.]+)h([\d.]+)/g)].map((match) =>
        match.slice(1).map(Number),
      );
      for (const [x = 0, y = 0, drawn = 0] of corners) {
        expect(x + drawn).toBeLessThanOrEqual(457);
        expect(y + drawn).toBeLessThanOrEqual(356);
      }
    }
  });
});

describe('nextTrayName()', () => {
  it("goes on in the farm's own way of naming", () => {
    expect(nextTrayName([])).toBe('t1');
    expect(nextTrayName([{ id: 't1' }, { id: 't9' }, { id: 'leek-2' }])).toBe('t10');
    expect(nextTrayName([{ id: 'celery' }])).toBe('t2');
  });
});
