import type { ProbeHistory } from '../../../../../shared/page/page-review.js';

interface CalibrationDrawingProps {
  readonly points: ProbeHistory['calibration'];
  /** Where the probe stands now, volts; undefined when it does not answer. */
  readonly voltsNow: number | undefined;
  readonly label: string;
}

const SIDE = 100;
const EDGE = 10;

/** The weighed points of a calibration, volts across and water upwards, and where the probe stands on it now. */
export function CalibrationDrawing({ points, voltsNow, label }: CalibrationDrawingProps) {
  const volts = points.map((point) => point.volts);
  const waters = points.map((point) => point.waterContentM3PerM3);
  const place = (value: number, values: readonly number[]): number => {
    const low = Math.min(...values);
    const width = Math.max(...values) - low;
    return EDGE + (width === 0 ? 0.5 : (value - low) / width) * (SIDE - 2 * EDGE);
  };
  const x = (value: number): number => place(value, volts);
  const y = (value: number): number => SIDE - place(value, waters);
  const path = points.map((point) => `${x(point.volts)},${y(point.waterContentM3PerM3)}`).join(' ');
  const nowX = voltsNow === undefined ? undefined : Math.min(SIDE - 2, Math.max(2, x(voltsNow)));
  return (
    <svg class="calibration" viewBox={`0 0 ${SIDE} ${SIDE}`} role="img" aria-label={label}>
      <path class="calibration-frame" d={`M2 2V${SIDE - 2}H${SIDE - 2}`} />
      {nowX !== undefined && <line class="calibration-now" x1={nowX} x2={nowX} y1="2" y2={SIDE - 2} />}
      <polyline class="calibration-line" points={path} />
      {points.map((point) => (
        <circle key={point.volts} cx={x(point.volts)} cy={y(point.waterContentM3PerM3)} r="3.6" />
      ))}
    </svg>
  );
}
