/**
 * What a grower sees: pressed soil is pale buff when dry and near black when wet. Lightness alone carries it, so it
 * reads the same without colour vision. Anchors from 0 (refill point) to 1 (container capacity), sRGB.
 */
const RAMP: readonly (readonly [index: number, red: number, green: number, blue: number])[] = [
  [-0.25, 233, 216, 184],
  [0, 216, 190, 148],
  [0.35, 165, 124, 82],
  [0.7, 98, 66, 43],
  [1, 52, 35, 25],
];

function between(low: number, high: number, share: number): number {
  return Math.round(low + (high - low) * share);
}

/** Colour of soil at a moisture index; held beyond the ends. Unknown is a grey that no soil has. */
export function soilColour(moistureIndex: number | undefined): string {
  if (moistureIndex === undefined) return 'rgb(150 148 144)';
  const last = RAMP.length - 1;
  const above = RAMP.findIndex(([index]) => index >= moistureIndex);
  const high = RAMP[above === -1 ? last : above];
  const low = RAMP[above === -1 ? last : Math.max(0, above - 1)];
  if (high === undefined || low === undefined) throw new RangeError('the soil ramp is empty');
  const width = high[0] - low[0];
  const share = width === 0 ? 0 : (moistureIndex - low[0]) / width;
  return `rgb(${between(low[1], high[1], share)} ${between(low[2], high[2], share)} ${between(low[3], high[3], share)})`;
}
