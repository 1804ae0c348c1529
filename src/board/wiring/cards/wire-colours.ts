export interface WireColour {
  readonly name: string;
  readonly css: string;
}

const black = { name: 'black', css: '#1d1f1e' };
const fixedColours: Readonly<Record<string, WireColour>> = {
  GND: black,
  '5V': { name: 'red', css: '#c4342d' },
  '3V3': { name: 'white', css: '#b3a58f' },
  PWR: { name: 'orange', css: '#e0801f' },
  SDA: { name: 'blue', css: '#2d66b1' },
  SCL: { name: 'yellow', css: '#b99700' },
  SDA3: { name: 'blue', css: '#5b93d8' },
  SCL3: { name: 'yellow', css: '#d8b72c' },
};
const signalColours: readonly WireColour[] = [
  { name: 'green', css: '#3c8a4d' },
  { name: 'violet', css: '#7d57a8' },
  { name: 'brown', css: '#8a5a33' },
  { name: 'turquoise', css: '#1f8f94' },
  { name: 'grey', css: '#7b8285' },
  { name: 'pink', css: '#c75a8b' },
];

/** Colour of each net's wires: fixed for supplies and bus, and in turn for signals. */
export function wireColours(nets: readonly string[]): ReadonlyMap<string, WireColour> {
  const colours = new Map<string, WireColour>();
  let signal = 0;
  for (const net of nets) {
    if (colours.has(net)) continue;
    const fixed = fixedColours[net];
    colours.set(net, fixed ?? signalColours[signal++ % signalColours.length] ?? black);
  }
  return colours;
}
