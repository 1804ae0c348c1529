import type { FarmConfig } from '../../../shared/config/farm.js';
import type { ProbeKind } from '../../../shared/config/kit/probes.js';
import type { RawUnit } from '../../../shared/facts/reading.js';
import type { KnownProbe } from '../../monitor/ports/ports.js';

/** A probe that the page shows, whether this machine's configuration names it or only the store has heard of it. */
export interface ShownProbe {
  readonly id: string;
  readonly kind: ProbeKind;
  readonly benchId?: string | undefined;
}

const KIND_OF_UNIT: Readonly<Record<RawUnit, ProbeKind>> = {
  Cel: 'air-temperature',
  '%RH': 'relative-humidity',
  lx: 'light',
  'W/m2': 'light',
  V: 'block-moisture',
  g: 'tray-weight',
};

/** The probes of this machine's configuration. */
export function configuredProbes(config: FarmConfig): readonly ShownProbe[] {
  return config.probes.map((probe) => ({
    id: probe.id,
    kind: probe.kind,
    benchId: 'bench' in probe ? probe.bench : undefined,
  }));
}

/** Those and, after them, the probes of other houses that write to the same store; what they measure tells their kind. */
export function probesWithOthers(config: FarmConfig, known: readonly KnownProbe[]): readonly ShownProbe[] {
  const own = configuredProbes(config);
  const ids = new Set(own.map(({ id }) => id));
  const others = new Map(
    known.flatMap(({ probeId, rawUnit }) =>
      ids.has(probeId) ? [] : [[probeId, { id: probeId, kind: KIND_OF_UNIT[rawUnit] }] as const],
    ),
  );
  return [...own, ...others.values()];
}
