import type { ProbeConfig } from '../../../shared/config/kit/probes.js';
import type { RawUnit } from '../../../shared/facts/reading.js';

/** Unit in which a probe's raw values are recorded. */
export function rawUnitOf(probe: ProbeConfig): RawUnit {
  switch (probe.kind) {
    case 'air-temperature':
      return 'Cel';
    case 'relative-humidity':
      return '%RH';
    case 'light':
      return probe.unit;
    case 'block-moisture':
      return 'V';
    case 'tray-weight':
      return 'g';
  }
}
