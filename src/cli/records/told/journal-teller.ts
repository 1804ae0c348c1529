import pc from 'picocolors';
import type { FarmConfig } from '../../../../shared/config/farm.js';
import type { JournalEntry } from '../../../../shared/page/page-journal.js';
import { speakNumbers } from '../../../review/page/texts/amounts/amounts.js';
import { farmClockWords } from '../../../review/page/texts/farm-clock.js';
import { loadTexts, type Texts } from '../../../review/page/texts/texts.js';
import { type EntryWords, entryWords } from '../../../review/page/views/journal/entry-words.js';
import { traysOf } from '../../../review/page/views/journal/fold-lines.js';

/** Tells the journal on a terminal in the words of the page: the farm's language, zone and units. */
export interface JournalTeller {
  /** One line: when, what, by whom. */
  readonly line: (entry: JournalEntry) => string;
  /** Whether an entry has all these words, whatever their case, and is about one of these trays; absent: about any. */
  readonly isAbout: (
    entry: JournalEntry,
    words: readonly string[],
    trays: readonly string[] | undefined,
  ) => boolean;
}

function told({ words, whole, by, undone }: EntryWords, { journal }: Texts): string {
  const who = by === undefined ? '' : `, ${journal.by(by)}`;
  return `${whole === undefined ? words : `${words}: ${whole}`}${who}${undone ? ` (${journal.undone})` : ''}`;
}

export async function journalTeller({ timeZone, units, language }: FarmConfig): Promise<JournalTeller> {
  const texts = await loadTexts(language);
  speakNumbers(texts.locale);
  const clock = farmClockWords(timeZone, texts);
  const tell = (entry: JournalEntry): string => told(entryWords(entry, { units }, clock, texts), texts);
  return {
    line: (entry) => `${pc.dim(clock.full(Date.parse(entry.at)))}  ${tell(entry)}`,
    isAbout(entry, words, trays) {
      if (trays !== undefined && !traysOf(entry).some((id) => id !== undefined && trays.includes(id)))
        return false;
      const text = tell(entry).toLowerCase();
      return words.every((word) => text.includes(word.toLowerCase()));
    },
  };
}
