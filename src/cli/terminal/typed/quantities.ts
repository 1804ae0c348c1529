/** A number with an optional unit, as typed: "0.75in", "3/4in", "21", "20klx". Undefined when it is none. */
export function parseQuantity(text: string): { readonly value: number; readonly unit: string } | undefined {
  const match = /^([+-]?\d+(?:\.\d+)?)(?:\/(\d+(?:\.\d+)?))?\s*([a-z%°/²0-9]*)$/i.exec(text.trim());
  if (match === null) return undefined;
  const value = Number(match[1]) / Number(match[2] ?? 1);
  return Number.isFinite(value) ? { value, unit: (match[3] ?? '').toLowerCase() } : undefined;
}

export const MM_PER_INCH = 25.4;
export const ML_PER_FL_OZ = 29.5735;
const M_PER_S_PER_MPH = 0.44704;

export type Units = 'metric' | 'imperial';

/** Millimetres from a block side as typed; a bare number is in the table's units. */
export function parseSideMm(text: string, units: Units): number | undefined {
  const quantity = parseQuantity(text);
  switch (quantity?.unit) {
    case 'mm':
      return quantity.value;
    case 'in':
      return quantity.value * MM_PER_INCH;
    case '':
      return units === 'imperial' ? quantity.value * MM_PER_INCH : quantity.value;
    default:
      return undefined;
  }
}

/** °C from a temperature as typed. */
export function parseTemperatureC(text: string, units: Units): number | undefined {
  const quantity = parseQuantity(text);
  const fromF = (value: number): number => ((value - 32) * 5) / 9;
  switch (quantity?.unit.replace('°', '')) {
    case 'c':
      return quantity.value;
    case 'f':
      return fromF(quantity.value);
    case '':
      return units === 'imperial' ? fromF(quantity.value) : quantity.value;
    default:
      return undefined;
  }
}

/** m/s from an air speed as typed; a bare number is m/s. */
export function parseAirSpeedMPerS(text: string): number | undefined {
  const quantity = parseQuantity(text);
  switch (quantity?.unit) {
    case '':
    case 'm/s':
      return quantity.value;
    case 'mph':
      return quantity.value * M_PER_S_PER_MPH;
    default:
      return undefined;
  }
}
