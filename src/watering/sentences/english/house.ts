import { MS_PER_MIN } from '../../../../shared/base/time-units.js';
import type { BoardState, HouseSentences, SaidClockStep, Undertaking } from '../said/house-sentences.js';

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

/** How a board is, and what a person can do about it. */
function boardWords(board: string, state: BoardState, finding: string): string {
  switch (state) {
    case 'ready':
      return `Board ${board} answers.`;
    case 'connecting':
      return `Board ${board} is being connected.`;
    case 'no-board':
      return `Board ${board} can't be reached: ${finding}.`;
    case 'wrong-firmware':
      return `Board ${board} is plugged in, but ${finding}: load StandardFirmata (firmware-notes/README.md).`;
    case 'silent':
      return `Board ${board} is plugged in but says nothing: press its reset button; if that does not help, unplug it for ten seconds, then load StandardFirmata (firmware-notes/README.md).`;
    case 'unplugged':
      return `Board ${board} was unplugged or lost power (${finding}): check its USB cable, hub and supply.`;
  }
}

/** What has happened to the clock, what was made of it, and what to look at. */
function clockStep({ shiftMs, skippedMs, why }: SaidClockStep): string {
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

const MISTAKE = 'by a mistake of this program';
const REPORT = 'report it with the log';

const NOT_DONE: Readonly<Record<Undertaking, string>> = {
  decision: `Which trays need somebody could not be decided just now, ${MISTAKE}: look at them yourself. It is tried again every ten minutes; ${REPORT}.`,
  'round-notice': `The notice of the coming round could not be written, ${MISTAKE}: look at every tray on that round, and ${REPORT}.`,
  forecasts: `Forecasts could not be made this hour, ${MISTAKE}: those shown are older. It is tried again every hour; ${REPORT}.`,
  reading: `A reading could not be taken up, ${MISTAKE}: it is kept and shown, and forecasts go without it; ${REPORT}.`,
};

/** What the house says of itself in English. */
export const englishHouse: HouseSentences = {
  ailment: ({ reason, ownSentence }) => ownSentence ?? reason,
  asItIs: (words) => words,
  board: boardWords,
  clockStep,
  notDone: (what) => NOT_DONE[what],
  notCarriedOut: (command) =>
    `"${command}" could not be carried out, ${MISTAKE}. It is set aside: nothing has changed. Tell what is true now in another way, and ${REPORT}.`,
  eventNotCarriedOut: (event, tray) =>
    `"${event}" of tray ${tray} could not be carried out, ${MISTAKE}. Nothing has changed; ${REPORT}.`,
  cutOff: (command, tray, at) =>
    `The monitor went down at ${at} while it carried out "${command}"${tray === undefined ? '' : ` (${tray})`}. That is set aside: nothing of it has happened. Look at the tray, and tell it again if it is still true.`,
  notKeptYet: () => 'Not on the disk yet, which takes nothing: lost if the power goes before. Make room.',
  keptAfterAll: () => 'What was answered "not on the disk yet" is on the disk now.',
  goneWithoutWord: () => 'The monitor has gone without a word. Look at it: nobody watches the trays.',
  stopped: () => 'The monitor was stopped.',
  late: (sentence, when, { webhook, phone }) => {
    const at = phone ? 'the push service' : webhook === undefined ? 'the broker' : `the webhook "${webhook}"`;
    return `From ${when}, held up at ${at}: ${sentence}`;
  },
  phoneTried: () => 'This phone is called here when trays cannot wait. Only a trial: nothing is wrong.',
  onlyTheStore: () =>
    'This page only shows the store. Tell it on the page of the house that watches the tray.',
};
