import type { PagePresent } from '../../../../../shared/page/page-present.js';
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

/** Trays that need nothing at the coming round, soonest first. */
export function WaitsList({ present, standings, nowMs, onOpen }: WaitsListProps) {
  const { texts } = useHouse();
  const clock = clockOf(present, texts);
  return (
    <ul class="waits">
      {standings.map((standing) => {
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
          <li key={tray.id}>
            <button type="button" onClick={() => onOpen(tray.id)}>
              <BlockDrawing
                sideMm={tray.blockSideMm}
                moistureIndex={tray.moistureIndex}
                sprouted={tray.germinatedAt !== undefined}
              />
              <span class="waits-what">
                <b>{tray.id}</b>
                <span>
                  {[tray.crop, sizeWords(tray.blockSideMm, present.units)].filter(Boolean).join(' · ')}
                </span>
                <span class="spoken">{fullWords(tray.moistureIndex, texts)}</span>
                <small>{done ?? until ?? ''}</small>
              </span>
              <TimeLeft standing={standing} nowMs={nowMs} present={present} />
            </button>
          </li>
        );
      })}
    </ul>
  );
}
