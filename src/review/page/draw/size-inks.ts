/**
 * One ink and one stroke for each block size. Dark blue, orange and black are told apart without colour vision, the
 * strokes without any colour, and each line carries its name besides.
 */
export interface SizeInk {
  readonly line: string;
  readonly band: string;
  readonly dash: readonly number[];
}

const INKS: readonly SizeInk[] = [
  { line: '#0a4a70', band: 'rgb(10 74 112 / 20%)', dash: [] },
  { line: '#a84d00', band: 'rgb(200 110 20 / 24%)', dash: [9, 4] },
  { line: '#1c1510', band: 'rgb(28 21 16 / 16%)', dash: [3, 3] },
  { line: '#7a2f7a', band: 'rgb(122 47 122 / 18%)', dash: [12, 3, 3, 3] },
];

/** Ink of the size at this place in the list of sizes, smallest first. */
export function sizeInk(place: number): SizeInk {
  const ink = INKS[place % INKS.length];
  if (ink === undefined) throw new RangeError('there are no inks');
  return ink;
}
