import { MS_PER_HOUR } from '../../../../../shared/base/time-units.js';
import { toPourMl } from '../../../../../shared/facts/pour-amount.js';
import type { PagePresent } from '../../../../../shared/page/page-present.js';
import { Icon } from '../../draw/icons.js';
import { LineInTime } from '../../draw/line-in-time.js';
import { TimeRail } from '../../draw/time-rail.js';
import { BlockDrawing } from '../../draw/trays/block-drawing.js';
import { clockOf, useHouse } from '../../house/house.js';
import type { TrayStanding } from '../../state/tray-standing.js';
import { sizeWords, waterWords } from '../../texts/amounts/amounts.js';
import { fullWords, hoursFigure, hoursRange, leftSpoken } from '../../texts/hours-left.js';
import { TellPress, UndoHere, useToldHere } from '../parts/tell-press.js';

interface DueCardProps {
  readonly present: PagePresent;
  readonly standing: TrayStanding;
  readonly place: number;
  readonly nowMs: number;
  readonly onOpen: (trayId: string) => void;
}

/** As many as a phone shows of the list and a little more. */
const FIRST_CARDS = 6;

/** A tray to be watered, in its place of the list. */
export function DueCard(props: DueCardProps) {
  return (
    <LineInTime
      class={`due is-${props.standing.standing}`}
      isFirst={props.place <= FIRST_CARDS}
      draw={() => <DueWords {...props} />}
    />
  );
}

/** What it is, how long it has, how much it takes, and one large thing to press. */
function DueWords({ present, standing, place, nowMs, onOpen }: DueCardProps) {
  const { texts } = useHouse();
  const { tray } = standing;
  const wish = { do: 'watered', tray: tray.id } as const;
  const isTold = useToldHere(wish) !== undefined;
  const size = sizeWords(tray.blockSideMm, present.units);
  return (
    <>
      <button type="button" class="due-body" onClick={() => onOpen(tray.id)}>
        <BlockFace standing={standing} />
        <span class="due-what">
          <span class="stake">
            <b>{tray.id}</b>
            {tray.crop !== undefined && <span>{tray.crop}</span>}
          </span>
          <span class="spoken">{fullWords(tray.moistureIndex, texts)}</span>
          <span class="due-size">
            {texts.tray.blocks(tray.blockCount, size)}
            <span> · {texts.tray.onBench(tray.bench)}</span>
          </span>
          {tray.cover !== 'none' && <span class="due-cover">{texts.tray.covered[tray.cover]}</span>}
        </span>
        <TimeLeft standing={standing} nowMs={nowMs} present={present} />
        <span class="turn" aria-hidden="true">
          <Icon name={standing.standing === 'called' ? 'bell' : 'drop'} />
          {place}
        </span>
        <span class="spoken">{texts.now.open(tray.id)}</span>
      </button>
      {tray.forecast !== undefined && (
        <TimeRail
          range={tray.forecast.hoursToRefillDriestTenth}
          forecastAtMs={Date.parse(tray.forecast.at)}
          nowMs={nowMs}
          rounds={present.nextRounds}
          clock={clockOf(present, texts)}
        />
      )}
      <div class="due-foot">
        <div class={isTold ? 'dose-place is-told' : 'dose-place'}>
          <Dose standing={standing} present={present} />
          <UndoHere wish={wish} />
        </div>
        <TellPress
          wish={wish}
          label={texts.tray.wateredFilled(tray.id)}
          spoken={texts.tray.wateredFilled(tray.id)}
          class="press press-water"
          canTell={present.canTell}
        >
          <Icon name="drop" />
          {texts.now.watered}
        </TellPress>
      </div>
    </>
  );
}

function BlockFace({ standing: { tray } }: { readonly standing: TrayStanding }) {
  return (
    <BlockDrawing
      sideMm={tray.blockSideMm}
      moistureIndex={tray.moistureIndex}
      sprouted={tray.germinatedAt !== undefined}
    />
  );
}

interface TimeLeftProps {
  readonly standing: TrayStanding;
  readonly nowMs: number;
  readonly present: PagePresent;
}

/** The driest blocks' hours: the middle large, the range under it, and when that is by the farm's clock. */
export function TimeLeft({ standing, nowMs, present }: TimeLeftProps) {
  const { texts } = useHouse();
  const { forecast } = standing.tray;
  const clock = clockOf(present, texts);
  if (forecast === undefined) {
    const endedAt = standing.tray.forecastEndedAt;
    return (
      <span class="left">
        {endedAt === undefined
          ? texts.now.unknownLeft
          : texts.now.endedLeft(clock.when(Date.parse(endedAt), nowMs))}
      </span>
    );
  }
  const range = forecast.hoursToRefillDriestTenth;
  const { figure, unit } = hoursFigure(range.p50, texts);
  const dryAtMs = range.p50 === null ? undefined : Date.parse(forecast.at) + range.p50 * MS_PER_HOUR;
  return (
    <span class="left">
      <span class="spoken">{leftSpoken(range, texts)}</span>
      <span aria-hidden="true" class="left-figure">
        {figure} <small>{unit}</small>
      </span>
      <span aria-hidden="true" class="left-range">
        {hoursRange(range, texts)}
      </span>
      {dryAtMs !== undefined && range.p50 !== 0 && (
        <span class="left-when">{clock.when(dryAtMs, nowMs)}</span>
      )}
    </span>
  );
}

interface DoseProps {
  readonly standing: TrayStanding;
  readonly present: PagePresent;
}

/** How much the tray takes and in how many pours. */
export function Dose({ standing, present }: DoseProps) {
  const { texts } = useHouse();
  const { pourPlan } = standing;
  const amountMl = toPourMl(standing);
  if (amountMl === undefined) return <p class="dose" />;
  return (
    <p class="dose">
      <span class="spoken">{texts.tray.doseTitle}</span>
      <b>{waterWords(amountMl, present.units)}</b>
      <span>
        {pourPlan === undefined || pourPlan.pours === 1
          ? texts.now.onePour
          : texts.now.pours(pourPlan.pours, waterWords(pourPlan.pourMl, present.units), pourPlan.soakMin)}
      </span>
      {(pourPlan?.shortMl ?? 0) > 0 && <span>{texts.now.notFull}</span>}
      {standing.perhapsWatered && <em>{texts.now.perhaps}</em>}
    </p>
  );
}
