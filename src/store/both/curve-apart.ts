import type { CurveSample, KeptDryDown } from '../../drying/curves/kept-dry-down.js';
import type { Fact } from '../../monitor/ports/facts.js';

/** A fact as its body is kept, and the curve of a dry-down beside it. */
export interface FactAndCurve {
  readonly fact: Fact;
  readonly samples?: readonly CurveSample[];
}

/** Curves are kept beside the bodies, so that questions about dry-downs do not read what they do not need. */
export function curveApart(fact: Fact): FactAndCurve {
  if (fact.kind !== 'dry-down' || !('samples' in fact.dryDown)) return { fact };
  const { samples, ...dryDown } = fact.dryDown;
  return { fact: { kind: 'dry-down', dryDown }, samples };
}

/** The fact whole again. */
export function withCurve({ fact, samples }: FactAndCurve): Fact {
  if (fact.kind !== 'dry-down' || samples === undefined) return fact;
  return { kind: 'dry-down', dryDown: { ...fact.dryDown, samples } };
}

/** Dry-downs that have their curve, out of facts. */
export function keptDryDowns(facts: readonly Fact[]): readonly KeptDryDown[] {
  return facts.flatMap((fact) =>
    fact.kind === 'dry-down' && 'samples' in fact.dryDown ? [fact.dryDown] : [],
  );
}
