import { MS_PER_MIN } from '../../../shared/base/time-units.js';
import { type ExpertScores, newExpertScores } from './expert-scores.js';
import { type GroundEvidence, inheritEvidence, newGroundEvidence } from './ground.js';
import { newReadingCourse, type ReadingCourse, type SeenReading } from './reading-course.js';

/** What a tray's calibrated moisture probe has taught besides the block model. */
export interface TrayExperts {
  readonly probeId: string;
  /** Step readings since the last full hour. */
  since: SeenReading[];
  readonly course: ReadingCourse;
  readonly scores: ExpertScores;
  readonly ground: GroundEvidence;
}

/** Share of what a tray of the same bench and size has seen that a new one begins with (judgement). */
const NEIGHBOUR_SHARE = 0.7;

/** Experts for a probe; `neighbours`: those of trays of the same size on the same bench. */
export function newTrayExperts(probeId: string, neighbours: readonly TrayExperts[]): TrayExperts {
  const experts: TrayExperts = {
    probeId,
    since: [],
    course: newReadingCourse(),
    scores: newExpertScores(),
    ground: newGroundEvidence(),
  };
  if (neighbours.length === 0) return experts;
  const share = NEIGHBOUR_SHARE / neighbours.length;
  for (const { course } of neighbours)
    for (const sums of ['hourFall', 'hourTime', 'levelFall', 'levelExpected'] as const)
      course[sums].forEach((value, i) => {
        experts.course[sums][i] = (experts.course[sums][i] as number) + share * value;
      });
  inheritEvidence(
    experts.ground,
    neighbours.map(({ ground }) => ground),
    NEIGHBOUR_SHARE,
  );
  return experts;
}

/** The hour's reading: the median of its last half hour, else its last. */
export function readingOfHour(since: readonly SeenReading[], endMs: number): SeenReading | undefined {
  const halfHourMs = 30 * MS_PER_MIN;
  const late = since.filter(({ atMs }) => atMs > endMs - halfHourMs);
  const last = since[since.length - 1];
  if (late.length === 0 || last === undefined) return last;
  const readings = late.map(({ reading }) => reading).sort((a, b) => a - b);
  return { atMs: last.atMs, reading: readings[Math.floor(readings.length / 2)] as number };
}
