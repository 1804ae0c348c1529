import type { CalibrationPoint } from '../../../shared/config/kit/probes.js';

const FNV_OFFSET = 0x811c9dc5;
const FNV_PRIME = 0x01000193;

/** Stable name of a set of points, whatever their order: FNV-1a (Fowler, Noll, Vo) over them, e.g. "cal-1f3a09c2". */
export function calibrationId(points: readonly CalibrationPoint[]): string {
  const text = points
    .map((point) => `${point.volts}:${point.waterContentM3PerM3}`)
    .sort()
    .join(';');
  let hash = FNV_OFFSET;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), FNV_PRIME);
  return `cal-${(hash >>> 0).toString(16).padStart(8, '0')}`;
}
