/** `a, b or c` */
export function list(items: readonly string[], word = 'or'): string {
  if (items.length < 2) return items[0] ?? 'none that is free';
  return `${items.slice(0, -1).join(', ')} ${word} ${items.at(-1)}`;
}
