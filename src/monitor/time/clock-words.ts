import type { ClockStep } from './clock-watch.js';

const MS_PER_MIN = 60_000;
const MIN_PER_H = 60;
const MIN_PER_DAY = 1440;

/** "25 min", "1 h", "3 h 10 min", "1 day", "365 days 2 h". */
function duration(ms: number): string {
  const minutes = Math.round(ms / MS_PER_MIN);
  const days = Math.floor(minutes / MIN_PER_DAY);
  const hours = Math.floor((minutes % MIN_PER_DAY) / MIN_PER_H);
  const parts = [
    days > 0 ? `${days} ${days === 1 ? 'day' : 'days'}` : '',
    hours > 0 ? `${hours} h` : '',
    days === 0 && minutes % MIN_PER_H > 0 ? `${minutes % MIN_PER_H} min` : '',
  ];
  return parts.filter((part) => part !== '').join(' ');
}

/** What has happened to the clock, what was made of it, and what to look at. */
export function clockSentence({ shiftMs, skippedMs, why }: ClockStep): string {
  switch (why) {
    case 'set-back':
      return `The clock of the house was set back by ${duration(-shiftMs)}. Nothing was lost and no tray has aged by it; look whether it is right now, for rounds go by it.`;
    case 'set-forward':
      return skippedMs < MS_PER_MIN
        ? `The clock of the house was set forward by ${duration(shiftMs)}, to where it had been before. Look whether it is right now, for rounds go by it.`
        : `The clock of the house went forward by ${duration(shiftMs + skippedMs)} at once: the machine slept, or its clock was set. Trays are taken to have dried all that time; look at them, and whether the clock is right.`;
    case 'stood-still':
      return `The monitor stood still for ${duration(skippedMs)} and read nothing. Look at the trays, and at what else the machine has to do.`;
  }
}
