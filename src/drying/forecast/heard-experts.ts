import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import { expertFalls, hoursToFall, type ModelCourse } from '../experts/expert-falls.js';
import { type JointWord, jointWord, logHours } from '../experts/expert-scores.js';
import { readingIsTray } from '../experts/ground.js';
import { joinHours } from '../experts/join-hours.js';
import { type LevelScale, LONGEST_GAP_H, type SeenReading, steadyDrift } from '../experts/reading-course.js';
import type { TrayState } from '../filter/tray-state.js';
import type { TrayForecast } from '../model/tray-forecast.js';
import { driestTenthPotential } from '../physics/driest-tenth.js';
import { dryBy, potentialDryingUntil } from '../physics/drying-law.js';

/** How far an hour's reading stands from what it will be taken for in the next hours, m³/m³ (judgement). */
const READING_SD_M3PERM3 = 0.01;

const ALREADY_THERE: JointWord = { middle: logHours(0), halfWidth: 0 };

type Forecast = Pick<
  TrayForecast,
  'waterContentM3PerM3' | 'waterContentSdM3PerM3' | 'meanBlockHours' | 'driestTenthHours'
>;

/** The reading that the experts speak from: recent, of an open tray, and not older than its last pour. */
function readingOf(tray: TrayState, atMs: number): SeenReading | undefined {
  const last = tray.experts?.course.last;
  if (last === undefined || tray.cover !== 'none') return undefined;
  const stale = atMs - last.atMs > LONGEST_GAP_H * MS_PER_HOUR || (tray.lastPour?.atMs ?? 0) > last.atMs;
  return stale ? undefined : last;
}

/** Chance that on this tray's ground its reading is the tray; 0 where nothing recent is read. */
export function chanceOfReading(tray: TrayState, atMs: number, scale: LevelScale): number {
  const { experts } = tray;
  if (experts === undefined || readingOf(tray, atMs) === undefined) return 0;
  const probe = tray.probes.find(({ spec }) => spec.id === experts.probeId);
  return readingIsTray(
    experts.ground,
    scale,
    (probe?.rejected ?? 0) > 0,
    steadyDrift(experts.course),
    experts.course.finished,
  );
}

/** The block model's forecast, overruled by what the tray's own readings say as far as they have earned it. */
export function heardExperts(tray: TrayState, atMs: number, model: ModelCourse, byModel: Forecast): Forecast {
  const last = readingOf(tray, atMs);
  const { experts } = tray;
  if (experts === undefined || last === undefined) return byModel;
  const { refill } = model.scale;
  const chance = chanceOfReading(tray, atMs, model.scale);
  const elapsedH = (atMs - last.atMs) / MS_PER_HOUR;
  const falls = expertFalls(experts.course, model, atMs);
  const wordOn = (level: number): JointWord =>
    last.reading <= level
      ? ALREADY_THERE
      : jointWord(
          experts.scores,
          falls.map((one) => Math.max(0, hoursToFall(one, last.reading - level) - elapsedH)),
        );
  const onMean = wordOn(refill);
  const onTenth = wordOn(Math.max(refill, levelOfDriestTenth(model, tray.driestRatio)));
  const meanBlockHours = joinHours(byModel.meanBlockHours, onMean, chance);
  const driestTenthHours = joinHours(byModel.driestTenthHours, onTenth, chance).map((hours, m) =>
    Math.min(hours, meanBlockHours[m] as number),
  );
  const apart = last.reading - byModel.waterContentM3PerM3;
  return {
    waterContentM3PerM3: Math.min(1, Math.max(0, byModel.waterContentM3PerM3 + chance * apart)),
    waterContentSdM3PerM3: Math.sqrt(
      (1 - chance) * byModel.waterContentSdM3PerM3 ** 2 +
        chance * READING_SD_M3PERM3 ** 2 +
        chance * (1 - chance) * apart ** 2,
    ),
    meanBlockHours,
    driestTenthHours,
  };
}

/** Water content of the mean block when the driest tenth is at the refill point, m³/m³. */
function levelOfDriestTenth({ stage, scale }: ModelCourse, driestRatio: number): number {
  const capacity = scale.refill + scale.span;
  const toTenth = driestTenthPotential(capacity, scale.refill, capacity, driestRatio, stage);
  const toMean = potentialDryingUntil(capacity, scale.refill, stage);
  return dryBy(capacity, Math.min(toTenth, toMean), stage);
}
