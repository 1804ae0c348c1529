import type { Watering } from '../../../shared/facts/watering.js';

interface ToldWatering {
  readonly kind: 'watering';
  readonly watering: Watering;
  readonly undone?: true | undefined;
}

const isWatering = <Told extends { readonly kind: string }>(told: Told): told is Told & ToldWatering =>
  told.kind === 'watering';

/** What names one pour, however often more of it becomes known. */
export function pourKey({ at, tray, source }: Watering): string {
  return `${at} ${tray} ${source}`;
}

/**
 * A pour that its probe knew more about later is one: the last word on it, with who told it first, in the place where it was told.
 * @param told oldest first; what is no watering goes through as it is
 */
export function poursOnce<Told extends { readonly kind: string }>(told: readonly Told[]): readonly Told[] {
  const once: Told[] = [];
  const placeOf = new Map<string, number>();
  for (const one of told) {
    if (!isWatering(one)) {
      once.push(one);
      continue;
    }
    const { amends, ...known } = one.watering;
    const key = pourKey(known);
    const place = amends === true ? placeOf.get(key) : undefined;
    const before = place === undefined ? undefined : once[place];
    if (place === undefined || before === undefined || !isWatering(before)) {
      placeOf.set(key, once.length);
      once.push(one);
      continue;
    }
    once[place] = {
      ...before,
      watering: { ...before.watering, ...known },
      ...(one.undone === true ? { undone: true } : {}),
    };
  }
  return once;
}

/** The waterings among facts, oldest first, each once and none that was undone. */
export function wateringsOf<Told extends { readonly kind: string }>(
  facts: readonly Told[],
): readonly Watering[] {
  return poursOnce(facts).flatMap((fact) =>
    isWatering(fact) && fact.undone !== true ? [fact.watering] : [],
  );
}
