import { HOURS_PER_DAY } from '../../../../shared/base/time-units.js';
import type { AlarmKind } from '../../../../shared/facts/alarm.js';
import type { AbsenceOutlook, AnswerSentences, ToldStep, UnknownName } from '../said/answer-sentences.js';
import type { FarmWords } from '../words/farm-words.js';

const LOOKS = { 1: 'dry', 2: 'light brown', 3: 'drying', 4: 'full', 5: 'saturated' } as const;

const SET_ASIDE: Readonly<Record<string, string>> = {
  shelved: 'put off already. Let it call again first.',
  'out-of-service': 'switched off already. Switch it on first.',
  'suppressed-by-design': 'silent already, with its board or under its cover. Nothing is to be done.',
};

const REMEDIES = {
  enter: 'Check its name, or enter it as a new tray first.',
  'leave-out': 'Check its name, or leave it out.',
  'pot-on': 'To pot on into it give its block size and count, or enter it as a new tray first.',
} as const;

const meantWords = ({ meant }: UnknownName): string =>
  meant === undefined ? '' : ` Did you mean "${meant}"?`;
const named = (kind: AlarmKind, of: string): string => `${kind} ${of}`;

function step(words: FarmWords, tray: string, told: ToldStep): string {
  switch (told.do) {
    case 'new-tray':
      return `Tray ${tray} stands on bench ${told.bench}: ${words.blocksCounted(told.blockCount, told.blockSideMm)}.`;
    case 'sown':
      return `Tray ${tray} is sown.`;
    case 'germinated':
      return `Tray ${tray} has germinated.`;
    case 'cover':
      return told.cover === 'none'
        ? `Tray ${tray} is uncovered.`
        : `Tray ${tray} is covered (${told.cover}).`;
    case 'move':
      return `Tray ${tray} stands on bench ${told.bench} now.`;
    case 'pot-on':
      return `Tray ${tray} is potted on into ${told.toTray}.`;
    case 'looked':
      return `Tray ${tray} looks ${LOOKS[told.level]} (${told.level} of 5).`;
    case 'weighed':
      return `Tray ${tray} weighs ${words.weight(told.grams)}.`;
    case 'ready-for-water':
      return `Tray ${tray} is ready for water; its refill point is learned from that.`;
    case 'attach':
      return `Probe ${told.probe} is in tray ${tray} now.`;
    case 'end':
      return `Tray ${tray} has ended.`;
  }
}

/** What an absence means for the trays; nothing known is not "well". */
function outlook({ mayNotLast, withoutForecast, guessed, lasting }: AbsenceOutlook): string {
  const others = mayNotLast.length + withoutForecast.length + guessed.length > 0;
  const said = [
    mayNotLast.length === 0 ? '' : `Water before you go, these may not last: ${mayNotLast.join(', ')}.`,
    withoutForecast.length === 0
      ? ''
      : `No forecast yet of ${withoutForecast.join(', ')}: look before you go.`,
    guessed.length === 0
      ? ''
      : `Nothing measures at ${guessed.join(', ')}: by what such blocks usually do they should last, but look before you go.`,
    lasting.length === 0 ? '' : `${others ? 'The others' : 'Every tray'} should last until then.`,
  ].filter((text) => text !== '');
  return said.length === 0 ? 'No tray stands on the benches.' : said.join(' ');
}

/** Answers to commands in English. */
export function englishAnswers(words: FarmWords): AnswerSentences {
  const leftOutWords = (trays: readonly string[]): string =>
    trays.length === 0 ? '' : ` Left out: ${trays.join(', ')}.`;
  const onBench = (bench: string | undefined): string => (bench === undefined ? '' : ` on bench ${bench}`);
  return {
    noted: () => 'Noted.',
    toldAlready: (ref) => `Command "${ref}" was carried out before; counted once.`,
    noSuchTray: (unknown, remedy) =>
      `There is no tray "${unknown.name}".${meantWords(unknown)} ${REMEDIES[remedy]}`,
    noSuchBench: (unknown, benches) =>
      `There is no bench "${unknown.name}".${meantWords(unknown)} Benches are: ${benches.join(', ')}.`,
    noSuchProbe: (probe, probes) =>
      `There is no moisture or weight probe "${probe}"; ${probes.length === 0 ? 'none is configured' : `these are: ${probes.join(', ')}`}.`,

    trayEnded: (tray) => `Tray "${tray}" has ended. Undo its end within a day, or enter a new tray.`,
    trayExists: (tray) =>
      `There is a tray "${tray}" already. End it first, or give the new one another name.`,
    sameTray: (tray) =>
      `Tray "${tray}" can't be potted on into itself. Name the tray with the larger blocks.`,
    smallerBlock: (toTray, tray, sideMm) =>
      `Tray "${toTray}" has no larger blocks than "${tray}"${sideMm === undefined ? '' : ` (${words.side(sideMm)})`}. Pot on into a larger size, or end this tray.`,
    smallerBlockGiven: (sideMm, tray, standingSideMm) =>
      `Blocks of ${words.side(sideMm)} are no larger than those of "${tray}" (${words.side(standingSideMm)}). Pot on into a larger size, or end this tray.`,
    blockCountMissing: (sideMm) =>
      `Blocks of ${words.side(sideMm)} have no usual number. Say how many are on the tray.`,
    blockSizeMissing: (toTray) =>
      `There is no tray "${toTray}" yet. Give the size of its blocks, or name a tray that stands.`,
    standsOtherwise: (tray, blockCount, sideMm, bench) =>
      `Tray "${tray}" stands already: ${words.blocksCounted(blockCount, sideMm)} on bench ${bench}. Leave its size, number and bench out, or name a new tray.`,
    refillAboveCapacity: () =>
      'The refill point must lie below the water content when watered and drained. Check the two, or leave them out to have them learned.',
    impossibleWeight: (tray, grams, { count, sideMm }, limit) =>
      `Tray ${tray} can't weigh ${words.weight(grams)}: ${words.blocksCounted(count, sideMm)} weigh ${'leastG' in limit ? `more than ${words.weight(limit.leastG)} even bone-dry` : `less than ${words.weight(limit.mostG)} even soaked and with a heavy tray`}. Weigh the whole tray with all its blocks, and check the unit.`,
    trayStep: (tray, told) => step(words, tray, told),
    traysStanding(perBench) {
      const all = perBench.reduce((sum, { count }) => sum + count, 0);
      const where = perBench.map(({ bench, count }) => `${count} on bench ${bench}`).join(', ');
      return all === 0
        ? 'No tray stands on the benches.'
        : `${all === 1 ? 'One tray stands' : `${all} trays stand`}: ${where}.`;
    },

    whichTrays: () => 'Say which trays were watered: a tray, a bench or a block size.',
    misfit({ tray, bench, sideMm }) {
      const reasons = [
        ...(bench === undefined ? [] : [`stands on bench ${bench.stands}, not ${bench.told}`]),
        ...(sideMm === undefined
          ? []
          : [`has blocks of ${words.side(sideMm.stands)}, not ${words.side(sideMm.told)}`]),
      ];
      return `${tray} ${reasons.join(', and ')}. Name the tray alone, or check which was watered.`;
    },
    noTrayStands: (bench) => `No tray stands${onBench(bench)}.`,
    noTrayOfSize(sideMm, bench, sidesMm) {
      const known =
        sidesMm.length === 0
          ? 'There are no trays'
          : `Block sizes in use are: ${[...new Set(sidesMm.map(words.side))].join(', ')}`;
      return `No tray with blocks of ${words.side(sideMm)} stands${onBench(bench)}. ${known}.`;
    },
    doseTooLarge: (ml, tray, blocksMl) =>
      `${words.volume(ml)} can't have stayed in tray ${tray}: all its blocks together are ${words.volume(blocksMl)}. Tell the amount for one tray, without what was tipped out.`,
    watered({ atMs, nowMs, trays, ml, before, again, leftOut }) {
      const twice = before.length === 0 ? '' : ` Told already and counted once: ${before.join(', ')}.`;
      const left = leftOutWords(leftOut);
      if (trays.length === 0) return `${twice.trim()}${left}`;
      const amount = ml === undefined ? '' : `, ${words.volume(ml)}${trays.length === 1 ? '' : ' each'}`;
      const further =
        again.length === 0
          ? ''
          : ` A further pour: ${again.join(', ')} ${again.length === 1 ? 'was' : 'were'} told within half an hour of this. If it was the same one, undo this.`;
      return `Watered at ${words.time(atMs, nowMs)}: ${trays.join(', ')}${amount}.${twice}${further}${left}`;
    },
    noRound: () =>
      'There was no round lately. Say which trays were watered instead: a tray, a bench or a block size.',
    notInNotice: (roundMs, nowMs, stray, listed) =>
      `The notice of the ${words.time(roundMs, nowMs)} round does not list ${stray.join(', ')}. It lists: ${listed.join(', ') || 'nothing'}.`,
    roundDoneDry: (roundMs, nowMs, leftOut) =>
      `Round of ${words.time(roundMs, nowMs)} done; nothing was watered.${leftOutWords(leftOut)}`,

    timeToCome: (atMs, nowMs) =>
      `${words.time(atMs, nowMs)} is still to come (it is ${words.clock(nowMs)} here). Leave the time out, or check the clock of your phone.`,
    tooLongAgo: (atMs, nowMs, command, latestH) =>
      `${words.time(atMs, nowMs)} is too long ago: "${command}" can be told up to ${latestH <= 2 * HOURS_PER_DAY ? `${latestH} hours` : `${latestH / HOURS_PER_DAY} days`} later. Check the date, or write a note.`,
    untilInPast: (untilMs, nowMs) => `${words.time(untilMs, nowMs)} is over. Give a time to come.`,
    absenceTooLong: (days) => `An absence is at most ${days} days. Give an earlier time.`,
    shelvedTooLong: (days) => `A call is put off for at most ${days} days. Give an earlier time.`,
    away: (untilMs, nowMs, known) => `Away until ${words.time(untilMs, nowMs)}. ${outlook(known)}`,
    notAway: () => 'You were not away. Nothing is to be done.',
    back: () => 'Welcome back. Rounds happen again.',
    awayNote: (untilMs) => `Away until ${words.dated(untilMs)}: the rounds before then do not happen`,
    backNote: () => 'Back: rounds happen again',

    seen: (alarms) => `Seen: ${alarms.map(({ kind, of }) => named(kind, of)).join(', ')}.`,
    noneToSee: (kind, of) =>
      `No ${kind === undefined ? '' : `${kind} `}call${of === undefined ? '' : ` about "${of}"`} waits to be seen. Nothing is to be done.`,
    noSuchAlarm: (kind, of) => `There is no ${kind} call about "${of}". Check the kind and the name.`,
    setAsideAlready: (kind, of, state) => `${named(kind, of)} is ${SET_ASIDE[state] ?? state}`,
    setAside: (kind, of, untilMs, nowMs) =>
      `${named(kind, of)}: ${untilMs === undefined ? 'switched off until it is put in service again' : `later, at ${words.time(untilMs, nowMs)}`}.`,
    notSetAside: (kind, of, wanted) =>
      `${named(kind, of)} is not ${wanted === 'shelved' ? 'put off' : 'switched off'}. Nothing is to be done.`,
    watchedAgain: (kind, of) => `${named(kind, of)} is watched again.`,

    testCallGoes: (ways) => `A test call goes out by ${ways.join(', ')}.`,
    testSeen: (way) => (way === undefined ? 'Seen: the test call.' : `Seen: the test call by ${way}.`),
    noSuchWay: (way, ways) => `Calls do not go out by "${way}". Name one of ${ways.join(', ')}.`,
    noTest: () =>
      'No test call waits for this answer. Nothing is to be done; "drybell call --test" makes one.',

    seenStays: () =>
      'What was seen stays seen: the standard for alarms (IEC 62682) knows no way back. To be called again put it off ("later"): when that time is over it calls, if it still holds.',
    nothingToUndo: (ref) =>
      `There is no command "${ref}" of the last 24 hours that can be taken back. Tell what is true now instead.`,
    restsOnIt({ command, tray, alarm }) {
      const about =
        tray !== undefined
          ? ` of tray ${tray}`
          : alarm === undefined
            ? ''
            : ` (${alarm.kind ?? 'call'} ${alarm.of})`;
      return `"${command}"${about} came after it and rests on it. Undo that first.`;
    },
    undone: (command, trays) => `Undone: ${command}${trays.length === 0 ? '' : ` (${trays.join(', ')})`}.`,
    undoneAlarm: (kind, of) => `Undone: ${named(kind, of)} is watched again.`,
    undoneAbsence: (awayUntilMs, nowMs) =>
      awayUntilMs === undefined
        ? 'Undone: you are not away. Rounds happen.'
        : `Undone: away until ${words.time(awayUntilMs, nowMs)}.`,
  };
}
