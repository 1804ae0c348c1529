import type { PagePresent } from '../../../../../shared/page/page-present.js';
import { LineInTime } from '../../draw/line-in-time.js';
import { BlockDrawing } from '../../draw/trays/block-drawing.js';
import { clockOf, useHouse } from '../../house/house.js';
import type { TrayStanding } from '../../state/tray-standing.js';
import { sizeWords } from '../../texts/amounts/amounts.js';
import { fullWords } from '../../texts/hours-left.js';
import { TimeLeft } from './due-card.js';

interface WaitsListProps {
  readonly present: PagePresent;
  readonly standings: readonly TrayStanding[];
  readonly nowMs: number;
  readonly onOpen: (trayId: string) => void;
}

/** As many as a phone shows where nothing is due. */
const FIRST_LINES = 8;

/** Trays that need nothing at the coming round, soonest first. */
export function WaitsList({ present, standings, nowMs, onOpen }: WaitsListProps) {
  return (
    <ul class="waits">
      {standings.map((standing, index) => (
        <LineInTime
          key={standing.tray.id}
          isFirst={index < FIRST_LINES}
          draw={() => <WaitsLine present={present} standing={standing} nowMs={nowMs} onOpen={onOpen} />}
        />
      ))}
    </ul>
  );
}

interface WaitsLineProps extends Omit<WaitsListProps, 'standings'> {
  readonly standing: TrayStanding;
}

function WaitsLine({ present, standing, nowMs, onOpen }: WaitsLineProps) {
  const { texts } = useHouse();
  const clock = clockOf(present, texts);
  const { tray } = standing;
  const until =
    standing.untilRound === undefined || Date.parse(standing.untilRound) <= nowMs
      ? undefined
      : texts.now.lastsUntil(clock.when(Date.parse(standing.untilRound), nowMs));
  const done =
    standing.done && tray.lastWatering !== undefined
      ? texts.now.wateredAt(clock.when(Date.parse(tray.lastWatering.at), nowMs))
      : undefined;
  return (
    <button type="button" onClick={() => onOpen(tray.id)}>
      <BlockDrawing
        sideMm={tray.blockSideMm}
        moistureIndex={tray.moistureIndex}
        sprouted={tray.germinatedAt !== undefined}
      />
      <span class="waits-what">
        <b>{tray.id}</b>
        <span>{[tray.crop, sizeWords(tray.blockSideMm, present.units)].filter(Boolean).join(' · ')}</span>
        <span class="spoken">{fullWords(tray.moistureIndex, texts)}</span>
        <small>{done ?? until ?? ''}</small>
      </span>
      <TimeLeft standing={standing} nowMs={nowMs} present={present} />
    </button>
  );
}
