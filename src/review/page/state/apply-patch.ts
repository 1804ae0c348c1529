import type { PagePatch, PagePresent } from '../../../../shared/page/page-present.js';

function merged<T extends { readonly id: string }>(
  items: readonly T[],
  changes: readonly T[] | undefined,
  gone: readonly string[] | undefined,
): T[] {
  const byId = new Map(items.map((item) => [item.id, item]));
  for (const item of changes ?? []) byId.set(item.id, item);
  for (const id of gone ?? []) byId.delete(id);
  return [...byId.values()];
}

/** The picture after a patch. New trays come last, as the house lists them. */
export function applyPatch(present: PagePresent, patch: PagePatch, cursor: string): PagePresent {
  const { goneTrays, goneProbes, gone, trays, probes, ...sections } = patch;
  const next = {
    ...present,
    ...sections,
    cursor,
    trays: merged(present.trays, trays, goneTrays),
    probes: merged(present.probes, probes, goneProbes),
  } as PagePresent;
  for (const name of gone ?? []) delete next[name];
  return next;
}
