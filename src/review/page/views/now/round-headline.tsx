import { MS_PER_HOUR } from '../../../../../shared/base/time-units.js';
import type { PagePresent } from '../../../../../shared/page/page-present.js';
import { clockOf, useHouse } from '../../house/house.js';
import { roundMeant } from '../../state/round-meant.js';
import type { TrayStanding } from '../../state/tray-standing.js';
import { waterWords } from '../../texts/amounts/amounts.js';
import { agoWords } from '../../texts/farm-clock.js';
import { hoursFigure } from '../../texts/hours-left.js';

interface RoundHeadlineProps {
  readonly present: PagePresent;
  readonly standings: readonly TrayStanding[];
  readonly nowMs: number;
}

/** The first thing that is read: the coming round and whether anything is to be done. */
export function RoundHeadline({ present, standings, nowMs }: RoundHeadlineProps) {
  const { texts } = useHouse();
  const clock = clockOf(present, texts);
  const { notice } = present;
  const open = standings.filter((one) => one.standing !== 'waits');
  const done = standings.filter((one) => one.done);
  const { roundMs, isOfNotice, isLeftOver, noticeRoundMs } = roundMeant(present, standings, nowMs);
  const totalMl = open.reduce((sum, one) => sum + (one.doseMl ?? 0), 0);
  const ahead = roundMs === undefined ? 0 : (roundMs - nowMs) / MS_PER_HOUR;
  const span = hoursFigure(Math.max(0.01, Math.abs(ahead)), texts);
  const away = `${span.figure} ${span.unit}`;
  const isPast = present.clockSpeed === 0;
  const headline = (): string => {
    if (isPast) return texts.now.pastTitle(clock.full(nowMs));
    if (open.length > 0)
      return isLeftOver ? texts.now.stillToWater(open.length) : texts.now.waterTrays(open.length);
    if (done.length === 0 || noticeRoundMs === undefined) return texts.now.nothingDue;
    return isOfNotice
      ? texts.now.allDone(done.length)
      : texts.now.allDoneAt(done.length, clock.when(noticeRoundMs, nowMs));
  };
  return (
    <header class="headline">
      {roundMs !== undefined && !isPast && (
        <p class="headline-round">
          <b>
            {isOfNotice
              ? texts.now.round(clock.when(roundMs, nowMs))
              : texts.now.nextRound(clock.when(roundMs, nowMs))}
          </b>
          <span>{ahead > 0 ? texts.now.roundIn(away) : texts.clock.ago(away)}</span>
        </p>
      )}
      <h1>{headline()}</h1>
      {isLeftOver && noticeRoundMs !== undefined && !isPast && (
        <p class="headline-left">
          {texts.now.leftFrom(clock.when(noticeRoundMs, nowMs), agoWords(nowMs - noticeRoundMs, texts))}
        </p>
      )}
      {totalMl > 0 && (
        <p class="headline-water">{texts.now.altogether(waterWords(totalMl, present.units))}</p>
      )}
      {present.awayUntil !== undefined && (
        <p class="headline-away">{texts.now.awayUntil(clock.when(Date.parse(present.awayUntil), nowMs))}</p>
      )}
      {notice?.sentence !== undefined && (
        <details>
          <summary>{texts.now.noticeAsSent(clock.when(Date.parse(notice.at), nowMs))}</summary>
          <p>{notice.sentence}</p>
        </details>
      )}
    </header>
  );
}
