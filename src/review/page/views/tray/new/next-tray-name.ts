/** The next name in the farm's own way of naming: the highest trailing number plus one, behind the commonest stem. */
export function nextTrayName(trays: readonly { readonly id: string }[]): string {
  const stems = new Map<string, { count: number; highest: number }>();
  for (const { id } of trays) {
    const match = /^(.*?)(\d+)$/.exec(id);
    if (match === null) continue;
    const [, stem = '', digits = '0'] = match;
    const known = stems.get(stem) ?? { count: 0, highest: 0 };
    stems.set(stem, { count: known.count + 1, highest: Math.max(known.highest, Number(digits)) });
  }
  const [commonest] = [...stems].sort((a, b) => b[1].count - a[1].count);
  return commonest === undefined ? `t${trays.length + 1}` : `${commonest[0]}${commonest[1].highest + 1}`;
}
