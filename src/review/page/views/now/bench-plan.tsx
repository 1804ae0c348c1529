import { byName } from '../../../../../shared/base/by-name.js';
import { MS_PER_MIN } from '../../../../../shared/base/time-units.js';
import type { PagePresent } from '../../../../../shared/page/page-present.js';
import { Icon } from '../../draw/icons.js';
import { LineInTime } from '../../draw/line-in-time.js';
import { TrayDrawing } from '../../draw/trays/tray-drawing.js';
import { useHouse } from '../../house/house.js';
import type { TrayStanding } from '../../state/tray-standing.js';
import { percentWords, temperatureWords } from '../../texts/amounts/amounts.js';
import { fullWords, hoursFigure, leftSpoken } from '../../texts/hours-left.js';

interface BenchPlanProps {
  readonly present: PagePresent;
  readonly benchId: string;
  readonly standings: readonly TrayStanding[];
  /** Trays on the benches drawn above this one. */
  readonly traysAbove: number;
  readonly nowMs: number;
  readonly onOpen: (trayId: string) => void;
}

/** Water stands in the channels for about this long after a pour. */
const STANDING_WATER_MS = 40 * MS_PER_MIN;

/** As many as a phone shows of the benches. */
const FIRST_TRAYS = 24;

/** One bench seen from above, the trays lying on its slats in the order of their names, as they lie on a bench. */
export function BenchPlan({ present, benchId, standings, traysAbove, nowMs, onOpen }: BenchPlanProps) {
  const { texts } = useHouse();
  const bench = present.benches.find((one) => one.id === benchId);
  const here = standings
    .map((standing, index) => ({ standing, place: index + 1 }))
    .filter(({ standing }) => standing.tray.bench === benchId)
    .sort((a, b) => byName(a.standing.tray.id, b.standing.tray.id));
  const air = [
    bench?.temperatureC === undefined ? undefined : temperatureWords(bench.temperatureC, present.units),
    bench?.relativeHumidityPct === undefined
      ? undefined
      : texts.now.humidity(percentWords(bench.relativeHumidityPct / 100)),
  ].filter((text) => text !== undefined);
  return (
    <section class="bench" aria-label={texts.now.benchTitle(benchId)}>
      <h2 class="bench-name">
        <span>{texts.now.benchTitle(benchId)}</span>
        <small>{air.join(', ')}</small>
      </h2>
      <ul class="slats">
        {here.map(({ standing, place }, index) => (
          <LineInTime
            key={standing.tray.id}
            class={`on-bench is-${standing.standing}`}
            isFirst={traysAbove + index < FIRST_TRAYS}
            draw={() => <TrayOnBench standing={standing} place={place} nowMs={nowMs} onOpen={onOpen} />}
          />
        ))}
      </ul>
    </section>
  );
}

interface TrayOnBenchProps {
  readonly standing: TrayStanding;
  readonly place: number;
  readonly nowMs: number;
  readonly onOpen: (trayId: string) => void;
}

function TrayOnBench({ standing, place, nowMs, onOpen }: TrayOnBenchProps) {
  const { texts } = useHouse();
  const { tray } = standing;
  const range = tray.forecast?.hoursToRefillDriestTenth;
  const left = range === undefined ? undefined : hoursFigure(range.p50, texts);
  const justWatered =
    tray.lastWatering !== undefined && nowMs - Date.parse(tray.lastWatering.at) < STANDING_WATER_MS;
  const share = fullWords(tray.moistureIndex, texts);
  const spoken = range === undefined ? texts.now.unknownLeft : leftSpoken(range, texts);
  return (
    <button type="button" onClick={() => onOpen(tray.id)}>
      <TrayDrawing
        blockCount={tray.blockCount}
        blockSideMm={tray.blockSideMm}
        moistureIndex={tray.moistureIndex}
        cover={tray.cover}
        justWatered={justWatered}
      />
      {standing.standing !== 'waits' && (
        <span class="turn" aria-hidden="true">
          <Icon name={standing.standing === 'called' ? 'bell' : 'drop'} />
          {place}
        </span>
      )}
      <span class="on-bench-words">
        <b>{tray.id}</b>
        <span aria-hidden="true">{left === undefined ? '–' : `${left.figure} ${left.unit}`}</span>
        <span class="spoken">{[share, spoken].filter(Boolean).join(', ')}</span>
      </span>
    </button>
  );
}
