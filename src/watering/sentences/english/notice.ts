import type { SaidNotice } from '../said/desk-sentences.js';
import type { FarmWords } from '../words/farm-words.js';
import { grouped } from '../words/grouped.js';
import { dryBy, list, pouring, trayTrays, watering } from './parts.js';

/** The round notice in plain words, bench by bench. */
export function noticeSentence(words: FarmWords, notice: SaidNotice): string {
  const round = `${words.time(notice.roundMs, notice.nowMs)} round`;
  const away =
    notice.awayUntilMs === undefined
      ? ''
      : ` You are away until ${words.time(notice.awayUntilMs, notice.nowMs)}.`;
  if (notice.due.length === 0) {
    const next = [...notice.waiting].sort((a, b) => a.untilRoundMs - b.untilRoundMs)[0];
    const count = notice.waiting.filter((one) => one.untilRoundMs === next?.untilRoundMs).length;
    const later =
      next === undefined
        ? ''
        : ` Next: ${count} ${trayTrays(count)} at ${words.time(next.untilRoundMs, notice.nowMs)}.`;
    const nothing = notice.isWithoutTrays === true ? 'no tray stands on the benches' : 'nothing to water';
    return `${round}: ${nothing}.${later}${away}`;
  }
  const parts = grouped(notice.due, (tray) => tray.benchId).map((onBench) => {
    const bench = onBench[0]?.benchId ?? '';
    const sizes = grouped(onBench, (tray) => String(tray.blockSideMm));
    const what = sizes.map((trays) => watering(words, trays)).join('; ');
    const unnamed = sizes.filter((trays) => trays.length > 1).flat();
    const names = unnamed.length === 0 ? '' : ` Trays: ${list(unnamed.map(({ id }) => id))}.`;
    return `Bench ${bench}, ${round}: water ${what}.${pouring(words, onBench)}${dryBy(words, onBench, notice.nowMs)}${names}`;
  });
  const unsure = notice.due.filter((tray) => tray.perhapsWatered === true).map((tray) => tray.id);
  const look =
    unsure.length === 0
      ? ''
      : ` Look before you pour: nobody said whether ${list(unsure)} ${unsure.length === 1 ? 'was' : 'were'} watered.`;
  return `${parts.join(' ')}${look}${away}`;
}
