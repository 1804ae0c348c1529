/** A resistor, a current pushed from one node into another, or a voltage against ground. */
export type Element =
  | { readonly kind: 'resistor'; readonly a: string; readonly b: string; readonly ohm: number }
  | { readonly kind: 'current'; readonly from: string; readonly to: string; readonly ampere: number }
  | { readonly kind: 'volts'; readonly node: string; readonly volts: number };

/** A source without any resistance would make the matrix singular. */
const sourceOhm = 1e-4;
/** Keeps a node that hangs on nothing solvable. */
const leakSiemens = 1e-13;

/** Node voltages of a linear circuit against "GND": nodal analysis, Gauss with pivoting. */
export function solve(elements: readonly Element[]): ReadonlyMap<string, number> {
  const names = new Set<string>();
  for (const element of elements)
    for (const node of Object.values(element)) if (typeof node === 'string') names.add(node);
  for (const word of ['GND', 'resistor', 'current', 'volts']) names.delete(word);
  const index = new Map([...names].map((name, at) => [name, at]));
  const size = names.size;
  const rows = Array.from({ length: size }, (_, at) => {
    const row = new Float64Array(size + 1);
    row[at] = leakSiemens;
    return row;
  });
  const add = (at: string, column: string | undefined, amount: number): void => {
    const row = rows[index.get(at) ?? -1];
    const to = column === undefined ? size : index.get(column);
    if (row !== undefined && to !== undefined) row[to] = (row[to] ?? 0) + amount;
  };
  const conduct = (a: string, b: string, siemens: number): void => {
    add(a, a, siemens);
    add(b, b, siemens);
    add(a, b, -siemens);
    add(b, a, -siemens);
  };
  for (const element of elements)
    if (element.kind === 'resistor') conduct(element.a, element.b, 1 / element.ohm);
    else if (element.kind === 'current') {
      add(element.from, undefined, -element.ampere);
      add(element.to, undefined, element.ampere);
    } else {
      conduct(element.node, 'GND', 1 / sourceOhm);
      add(element.node, undefined, element.volts / sourceOhm);
    }
  eliminate(rows);
  return new Map([['GND', 0], ...[...index].map(([name, at]) => [name, rows[at]?.[size] ?? 0] as const)]);
}

function eliminate(rows: Float64Array[]): void {
  const size = rows.length;
  for (let pivot = 0; pivot < size; pivot++) {
    let best = pivot;
    for (let row = pivot + 1; row < size; row++)
      if (Math.abs(rows[row]?.[pivot] ?? 0) > Math.abs(rows[best]?.[pivot] ?? 0)) best = row;
    const [chosen, other] = [rows[best], rows[pivot]];
    if (chosen === undefined || other === undefined) return;
    rows[best] = other;
    rows[pivot] = chosen;
    const lead = chosen[pivot] ?? 1;
    for (let column = pivot; column <= size; column++) chosen[column] = (chosen[column] ?? 0) / lead;
    for (let row = 0; row < size; row++) {
      const target = rows[row];
      const factor = target?.[pivot] ?? 0;
      if (row === pivot || target === undefined || factor === 0) continue;
      for (let column = pivot; column <= size; column++)
        target[column] = (target[column] ?? 0) - factor * (chosen[column] ?? 0);
    }
  }
}
