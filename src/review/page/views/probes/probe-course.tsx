import type { ProbeHistory } from '../../../../../shared/page/page-review.js';

interface ProbeCourseProps {
  readonly history: ProbeHistory;
  readonly fromMs: number;
  readonly toMs: number;
  readonly label: string;
}

const WIDE = 600;
const HIGH = 120;
const EDGE = 8;

/** The course of one probe over the span: its line, what was not believed, and its gaps hatched. */
export function ProbeCourse({ history, fromMs, toMs, label }: ProbeCourseProps) {
  const { course, gaps } = history;
  const low = Math.min(...course.mean);
  const high = Math.max(...course.mean);
  const x = (atMs: number): number => ((atMs - fromMs) / (toMs - fromMs)) * WIDE;
  const y = (value: number): number =>
    HIGH - EDGE - ((value - low) / Math.max(high - low, 1e-9)) * (HIGH - 2 * EDGE);
  const gapAt = gaps.map((gap) => ({ fromX: x(Date.parse(gap.from)), toX: x(Date.parse(gap.to)) }));
  let path = '';
  course.atS.forEach((atS, place) => {
    const before = course.atS[place - 1];
    const broken =
      before === undefined ||
      gaps.some((gap) => Date.parse(gap.from) >= before * 1000 - 1 && Date.parse(gap.to) <= atS * 1000 + 1);
    path += `${broken ? 'M' : 'L'}${x(atS * 1000).toFixed(1)} ${y(course.mean[place] ?? low).toFixed(1)}`;
  });
  const patternId = `gap-${history.probe.id}`;
  return (
    <svg
      class="probe-course"
      viewBox={`0 0 ${WIDE} ${HIGH}`}
      preserveAspectRatio="none"
      role="img"
      aria-label={label}
    >
      <defs>
        <pattern
          id={patternId}
          width="8"
          height="8"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <rect width="3" height="8" class="gap-hatch" />
        </pattern>
      </defs>
      {gapAt.map(({ fromX, toX }) => (
        <rect
          key={fromX}
          x={fromX}
          width={Math.max(2, toX - fromX)}
          height={HIGH}
          fill={`url(#${patternId})`}
        />
      ))}
      <path d={path} class="probe-line" />
      {course.atS.map((atS, place) =>
        (course.flaggedShare[place] ?? 0) > 0.5 ? (
          <circle
            key={atS}
            class="probe-doubt"
            cx={x(atS * 1000)}
            cy={y(course.mean[place] ?? low)}
            r="3.5"
          />
        ) : null,
      )}
    </svg>
  );
}
