/** The views, in the order of the bar. */
export const VIEWS = ['now', 'curves', 'water', 'probes', 'journal'] as const;
/** Views that others lead to. */
const FURTHER = ['why', 'season', 'houses'] as const;
export type ViewName = (typeof VIEWS)[number] | (typeof FURTHER)[number];

/** What an address names: a view, in it a tray, and of that an instant. */
export interface Place {
  readonly view: ViewName;
  readonly detail: string | undefined;
  readonly at: string | undefined;
}

/** The place that an address names: `#curves/t1` and `#/curves/t1` are Curves on t1; anything unknown is Now. */
export function placeOf(hash: string): Place {
  const [name, detail, at] = hash.replace(/^#\/?/, '').split('/');
  const view = [...VIEWS, ...FURTHER].find((one) => one === name) ?? 'now';
  const part = (text: string | undefined): string | undefined =>
    text === undefined || text === '' ? undefined : decodeURIComponent(text);
  return { view, detail: part(detail), at: part(at) };
}

/** Address of "why?" of a tray, now or as it stood at an instant. */
export function whyAddress(trayId: string, at?: string): string {
  return `#why/${encodeURIComponent(trayId)}${at === undefined ? '' : `/${encodeURIComponent(at)}`}`;
}
