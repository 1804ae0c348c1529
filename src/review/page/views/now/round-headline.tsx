import type { PagePresent } from '../../../../../shared/page-present.js';
import { clockOf, useHouse } from '../../house/house.js';
import { roundMeant } from '../../state/round-meant.js';
import type { TrayStanding } from '../../state/tray-standing.js';
import { waterWords } from '../../words/amounts.js';
import { hoursFigure } from '../../words/hours-left.js';

interface RoundHeadlineProps {
  readonly present: PagePresent;
  readonly standings: readonly TrayStanding[];
  readonly nowMs: number;
}

const HOUR_MS = 3_600_000;

/** The first thing that is read: the coming round and whether anything is to be done. */
export function RoundHeadline({ present, standings, nowMs }: RoundHeadlineProps) {
  const { texts } = useHouse();
  const clock = clockOf(present, texts);
  const { notice } = present;
  const open = standings.filter((one) => one.standing !== 'waits');
  const done = standings.filter((one) => one.done);
  const { roundMs, isOfNotice, noticeRoundMs } = roundMeant(present, standings, nowMs);
  const totalMl = open.reduce((sum, one) => sum + (one.doseMl ?? 0), 0);
  const ahead = roundMs === undefined ? 0 : (roundMs - nowMs) / HOUR_MS;
  const span = hoursFigure(Math.max(0.01, ahead), texts);
  return (
    <header class="headline">
      {roundMs !== undefined && (
        <p class="headline-round">
          <b>{texts.now.round(clock.when(roundMs, nowMs))}</b>
          {ahead > 0 && <span>{texts.now.roundIn(`${span.figure} ${span.unit}`)}</span>}
        </p>
      )}
      <h1>
        {open.length > 0
          ? texts.now.waterTrays(open.length)
          : done.length === 0 || noticeRoundMs === undefined
            ? texts.now.nothingDue
            : isOfNotice
              ? texts.now.allDone(done.length)
              : texts.now.allDoneAt(done.length, clock.when(noticeRoundMs, nowMs))}
      </h1>
      {totalMl > 0 && (
        <p class="headline-water">{texts.now.altogether(waterWords(totalMl, present.units))}</p>
      )}
      {present.awayUntil !== undefined && (
        <p class="headline-away">{texts.now.awayUntil(clock.when(Date.parse(present.awayUntil), nowMs))}</p>
      )}
      {notice?.sentence !== undefined && (
        <details>
          <summary>{texts.now.noticeAsSent}</summary>
          <p>{notice.sentence}</p>
        </details>
      )}
    </header>
  );
}
