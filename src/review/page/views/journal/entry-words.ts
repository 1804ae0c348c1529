import type { TrayEvent } from '../../../../../shared/facts/tray-life.js';
import type { Watering } from '../../../../../shared/facts/watering.js';
import type { JournalEntry } from '../../../../../shared/page/page-journal.js';
import type { PagePresent } from '../../../../../shared/page/page-present.js';
import { percentWords, sizeWords, waterWords, weightWords } from '../../texts/amounts/amounts.js';
import type { FarmClockWords } from '../../texts/farm-clock.js';
import type { Texts } from '../../texts/texts.js';

export const GROUPS = ['all', 'water', 'calls', 'rounds', 'trays', 'notes', 'house'] as const;
export type Group = (typeof GROUPS)[number];

/** The kinds of fact behind each group, as the request names them. */
export const KINDS_OF: Readonly<Record<Group, string | undefined>> = {
  all: undefined,
  water: 'watering',
  calls: 'alarm,call,ask',
  rounds: 'round-notice',
  trays: 'tray-event,tray-event-undone',
  notes: 'note,note-undone',
  house: 'probe-drift,status',
};

/** The group that a line belongs to. */
export function groupOf(entry: JournalEntry): Exclude<Group, 'all'> {
  const found = GROUPS.find((group) => KINDS_OF[group]?.split(',').includes(entry.kind) === true);
  return found === undefined || found === 'all' ? 'house' : found;
}

/** One line in plain words. `whole` is the sentence the house itself made, where it made one. */
export interface EntryWords {
  readonly words: string;
  readonly whole?: string | undefined;
  readonly by?: string | undefined;
  readonly undone: boolean;
}

/** A line of the journal in plain words. */
export function entryWords(
  entry: JournalEntry,
  present: Pick<PagePresent, 'units'>,
  clock: FarmClockWords,
  texts: Texts,
): EntryWords {
  const words = texts.journal;
  switch (entry.kind) {
    case 'watering':
      return {
        words: wateringWords(entry.watering, present, texts),
        by: entry.watering.by,
        undone: entry.undone === true,
      };
    case 'tray-event':
      return {
        words: eventWords(entry.event, present, texts),
        by: entry.event.by,
        undone: entry.undone === true,
      };
    case 'tray-event-undone':
      return { words: words.undoneEvent(eventWords(entry.event, present, texts)), undone: false };
    case 'alarm': {
      const { kind, tray, bench, source, state, sentence, by } = entry.transition;
      const of = tray ?? bench ?? source ?? '';
      return {
        words: words.alarm(texts.call.kinds[kind], of, words.states[state]),
        whole: sentence,
        by,
        undone: false,
      };
    }
    case 'call':
      return {
        words: texts.call.kinds[entry.call.kind],
        whole: entry.call.sentence,
        undone: false,
      };
    case 'round-notice': {
      const { round, due, sentence } = entry.notice;
      const when = clock.timeOfDay(Date.parse(round));
      return { words: words.round(when, due.length), whole: sentence, undone: false };
    }
    case 'note':
      return {
        words: entry.tray ?? words.noTray,
        whole: entry.text,
        by: entry.by,
        undone: entry.undone === true,
      };
    case 'note-undone':
      return { words: words.undoneEvent(words.noteOn(entry.note.tray ?? words.noTray)), undone: false };
    case 'ask':
      return { words: entry.trays.join(', '), whole: entry.sentence, undone: false };
    case 'probe-drift':
      return { words: words.drift(entry.probe, percentWords(entry.driftM3PerM3)), undone: false };
    case 'status':
      return {
        words: entry.status.online ? words.online : words.offline,
        whole: entry.status.sentence,
        undone: false,
      };
  }
}

function wateringWords(
  { tray, source, ml, askedMl, takenUpMl }: Watering,
  present: Pick<PagePresent, 'units'>,
  texts: Texts,
): string {
  const words = texts.journal.watered;
  if (source === 'detected') {
    const taken = takenUpMl ?? ml;
    return taken === undefined ? words.detected(tray) : words.takenUp(tray, waterWords(taken, present.units));
  }
  const told = ml ?? askedMl;
  return told === undefined ? words.filled(tray) : words.told(tray, waterWords(told, present.units));
}

function eventWords(event: TrayEvent, present: Pick<PagePresent, 'units'>, texts: Texts): string {
  const words = texts.journal.events;
  switch (event.event) {
    case 'new': {
      const size = sizeWords(event.blockSideMm, present.units);
      return words.new(event.tray, texts.tray.blocksLong(event.blockCount, size));
    }
    case 'moved':
      return words.moved(event.tray, event.bench);
    case 'potted-on':
      return words['potted-on'](event.tray, event.toTray);
    case 'weighed':
      return words.weighed(event.tray, weightWords(event.grams, present.units));
    case 'looked':
      return words.looked(event.tray, texts.tray.looks[event.level - 1] ?? '');
    case 'attached':
      return words.attached(event.tray, event.probe);
    case 'sown':
    case 'germinated':
    case 'covered':
    case 'uncovered':
    case 'watered':
    case 'ready-for-water':
    case 'ended':
      return words[event.event](event.tray);
  }
}
