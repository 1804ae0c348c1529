import { MS_PER_HOUR } from '../../../../../shared/base/time-units.js';
import { isBelieved } from '../../../../../shared/facts/reading-belief.js';
import type { PagePresent, PageProbe } from '../../../../../shared/page/page-present.js';
import type { ProbeHistory } from '../../../../../shared/page/page-review.js';
import { DataTable } from '../../draw/data-table.js';
import { Icon } from '../../draw/icons.js';
import { SaveRow } from '../../draw/save-row.js';
import { clockOf, useFarmNowMs, useHouse } from '../../house/house.js';
import { numberWords, percentWords, temperatureWords, weightWords } from '../../texts/amounts/amounts.js';
import { agoWords } from '../../texts/farm-clock.js';
import type { Texts } from '../../texts/texts.js';
import { CalibrationDrawing } from './calibration-drawing.js';
import { ProbeCourse } from './probe-course.js';
import { calibrationPicture, coursePicture } from './probe-pictures.js';

interface ProbeCardProps {
  readonly history: ProbeHistory;
  readonly present: PagePresent;
  readonly fromMs: number;
  readonly toMs: number;
}

const MOST_GAPS = 4;
const TABLE_ROWS = 56;

/** One probe: whether it is trusted, what it says, its course, its gaps, its drift, its calibration. */
export function ProbeCard({ history, present, fromMs, toMs }: ProbeCardProps) {
  const { texts } = useHouse();
  const nowMs = useFarmNowMs();
  const words = texts.review.probes;
  const { probe, course, calibration } = history;
  const stride = Math.max(1, Math.ceil(course.atS.length / TABLE_ROWS));
  const clock = clockOf(present, texts);
  const unit = calibration.length > 0 ? '%' : history.rawUnit;
  const scale = calibration.length > 0 ? 100 : 1;
  const head = [words.at, words.value(unit), words.doubted];
  const rows = (): string[][] =>
    course.atS.map((atS, place) => [
      clock.full(atS * 1000),
      numberWords((course.mean[place] ?? 0) * scale, scale === 100 ? 1 : 2),
      percentWords(course.flaggedShare[place] ?? 0),
    ]);
  return (
    <li class={probe.ok ? 'probe' : 'probe probe-unwell'}>
      <header>
        <h2>{probe.id}</h2>
        <p>
          {words.kinds[probe.kind]} · {placeWords(probe, texts)}
        </p>
        <p class="probe-state">
          <Icon name={probe.ok ? 'check' : 'bell'} />
          {probe.reason === '' ? words.well : words.reasons[probe.reason]}
        </p>
        <p class="probe-value">
          <b>{valueWords(probe, present)}</b>
          <small>{readWords(probe, nowMs, texts)}</small>
        </p>
      </header>
      {course.atS.length > 1 && (
        <figure>
          <ProbeCourse history={history} fromMs={fromMs} toMs={toMs} label={words.courseLabel(probe.id)} />
          <figcaption>
            {words.readings(history.readingCount)}
            {history.flaggedCount > 0 &&
              `, ${words.flagged(percentWords(history.flaggedCount / Math.max(1, history.readingCount)))}`}
          </figcaption>
          <SaveRow
            name={probe.id}
            of={probe.id}
            picture={coursePicture(history, fromMs, toMs, clock, {
              label: words.courseLabel(probe.id),
              unit: words.value(unit),
              scale,
            })}
            head={head}
            rows={rows}
          />
          <DataTable
            summary={texts.review.asTable}
            caption={words.courseLabel(probe.id)}
            head={head}
            rows={() => rows().filter((_, place) => place % stride === 0)}
          />
        </figure>
      )}
      <dl class="probe-facts">
        <Gaps history={history} present={present} />
        {probe.kind === 'block-moisture' && <Drift history={history} present={present} />}
        {probe.kind === 'block-moisture' && (
          <div>
            <dt>{words.calibrationTitle}</dt>
            <dd>
              {calibration.length === 0 ? (
                words.noCalibration
              ) : (
                <Calibration probe={probe} points={calibration} />
              )}
            </dd>
          </div>
        )}
      </dl>
    </li>
  );
}

function Calibration({
  probe,
  points,
}: {
  readonly probe: PageProbe;
  readonly points: ProbeHistory['calibration'];
}) {
  const { texts } = useHouse();
  const words = texts.review.probes;
  const water = texts.review.curves.waterAxis;
  const rows = points.map(({ volts, waterContentM3PerM3 }) => [
    numberWords(volts, 3, 0),
    numberWords(waterContentM3PerM3 * 100, 1),
  ]);
  const label = `${words.calibrationLabel(points.length)}: ${points
    .map((point) => `${numberWords(point.volts, 3, 0)} V ${percentWords(point.waterContentM3PerM3)}`)
    .join(', ')}`;
  return (
    <>
      <CalibrationDrawing points={points} voltsNow={probe.reading?.rawValue} label={label} />
      <SaveRow
        name={`${probe.id}-calibration`}
        of={`${probe.id}, ${words.calibrationTitle}`}
        picture={calibrationPicture(points, { label, volts: words.volts, water })}
        head={[words.volts, water]}
        rows={() => rows}
      />
    </>
  );
}

function Gaps({ history, present }: Pick<ProbeCardProps, 'history' | 'present'>) {
  const { texts } = useHouse();
  const words = texts.review.probes;
  const clock = clockOf(present, texts);
  const spanOf = (gap: ProbeHistory['gaps'][number]): string => {
    const hours = (Date.parse(gap.to) - Date.parse(gap.from)) / MS_PER_HOUR;
    return hours < 48
      ? `${Math.round(hours)} ${texts.hours.hoursShort}`
      : `${Math.round(hours / 24)} ${texts.hours.daysShort}`;
  };
  return (
    <div>
      <dt>{words.gapsTitle}</dt>
      <dd>
        {history.gaps.length === 0
          ? words.noGaps
          : history.gaps
              .slice(-MOST_GAPS)
              .map((gap) => (
                <p key={gap.from}>
                  {words.gap(clock.when(Date.parse(gap.from), Date.parse(present.at)), spanOf(gap))}
                </p>
              ))}
        {history.gaps.length > MOST_GAPS && <p>{words.moreGaps(history.gaps.length - MOST_GAPS)}</p>}
      </dd>
    </div>
  );
}

function Drift({ history, present }: Pick<ProbeCardProps, 'history' | 'present'>) {
  const { texts } = useHouse();
  const words = texts.review.probes;
  const clock = clockOf(present, texts);
  const last = history.drifts.at(-1);
  return (
    <div>
      <dt>{words.driftTitle}</dt>
      <dd>
        {last === undefined
          ? words.noDrift
          : words.drift(
              clock.when(Date.parse(last.at), Date.parse(present.at)),
              `${last.driftM3PerM3 > 0 ? '+' : ''}${numberWords(last.driftM3PerM3 * 100, 1)} %`,
            )}
      </dd>
    </div>
  );
}

function placeWords(probe: PageProbe, { review: { probes: words } }: Texts): string {
  if (probe.tray !== undefined) return words.onTray(probe.tray);
  return probe.bench === undefined ? words.onNothing : words.onBench(probe.bench);
}

function readWords(probe: PageProbe, nowMs: number, texts: Texts): string {
  const words = texts.review.probes;
  if (probe.delivered !== undefined) {
    const { heardAt, battery, signalDbm } = probe.delivered;
    return [
      words.heard(agoWords(nowMs - Date.parse(heardAt), texts)),
      ...(battery === undefined ? [] : [words.battery(battery)]),
      ...(signalDbm === undefined ? [] : [words.signal(signalDbm)]),
    ].join(', ');
  }
  if (probe.reading === undefined) return words.never;
  const ago = words.read(agoWords(nowMs - Date.parse(probe.reading.at), texts));
  const { flag, flagReasons } = probe.reading;
  // What does not count is said by the verdict.
  if (flag === 1 || !isBelieved(flag, flagReasons)) return ago;
  return `${ago}; ${flag === 2 ? words.unjudged : words.beyond}`;
}

/** The newest value in the unit a grower reads. */
function valueWords({ reading }: PageProbe, present: PagePresent): string {
  if (reading?.rawValue === undefined) return '–';
  if (reading.waterContentM3PerM3 !== undefined) return percentWords(reading.waterContentM3PerM3);
  switch (reading.rawUnit) {
    case 'Cel':
      return temperatureWords(reading.rawValue, present.units);
    case '%RH':
      return percentWords(reading.rawValue / 100);
    case 'V':
      return `${numberWords(reading.rawValue, 2)} V`;
    case 'lx':
      return `${numberWords(reading.rawValue / 1000, 1)} klx`;
    case 'W/m2':
      return `${numberWords(reading.rawValue)} W/m²`;
    case 'g':
      return weightWords(reading.rawValue, present.units);
  }
}
