/** The views, in the order of the bar. */
export const VIEWS = ['now', 'curves', 'water', 'probes', 'journal'] as const;
export type ViewName = (typeof VIEWS)[number];

/** The view that an address names: `#curves/t1` and `#/curves/t1` are Curves on t1; anything unknown is Now. */
export function viewOf(hash: string): { view: ViewName; detail: string | undefined } {
  const [name, detail] = hash.replace(/^#\/?/, '').split('/');
  const view = VIEWS.find((one) => one === name) ?? 'now';
  return { view, detail: detail === undefined || detail === '' ? undefined : decodeURIComponent(detail) };
}
