import { type Command, Option } from 'commander';
import pc from 'picocolors';
import type { JournalAnswer } from '../../../shared/page/page-journal.js';
import { GROUPS, type Group, KINDS_OF } from '../../review/page/views/journal/entry-words.js';
import { askedKinds, journalAnswer } from '../../review/server/views/journal-answer.js';
import { createSpeech } from '../../watering/sentences/speech.js';
import { askedConfig } from '../config/asked-config.js';
import { openReview } from '../running/house-parts/open-review.js';
import { type JsonFlag, printJson, withJson } from '../terminal/json-option.js';
import { BadWord, readNumber } from '../terminal/typed/bad-word.js';
import { journalTeller } from './told/journal-teller.js';
import { keptSpan } from './told/kept-span.js';

interface JournalOptions extends JsonFlag {
  readonly config?: string;
  readonly since?: string;
  readonly until?: string;
  readonly kind: Group;
  readonly tray?: readonly string[];
  readonly newest: string;
}

const MOST_ENTRIES = 1_000_000;
/** A pour told is two facts, a tray's event and a watering, and one entry. */
const FACTS_PER_ENTRY = 2;

async function journal(words: readonly string[], options: JournalOptions): Promise<void> {
  const newest = readNumber(options.newest, '--newest', '50');
  if (!Number.isInteger(newest) || newest < 1)
    throw new BadWord(`--newest ${options.newest}: expected a whole number of entries, 1 or more`);
  const config = askedConfig(options.config);
  const kinds = KINDS_OF[options.kind];
  const teller = await journalTeller(config);
  const queries = openReview(config);
  try {
    const span = await keptSpan(options, config.timeZone, queries);
    const isSearched = words.length > 0 || options.tray !== undefined;
    const all = await journalAnswer(
      queries,
      span,
      createSpeech(config).say,
      askedKinds(new URLSearchParams(kinds === undefined ? {} : { kinds })),
      isSearched ? MOST_ENTRIES : FACTS_PER_ENTRY * newest,
    );
    const found = all.entries.filter((entry) => teller.isAbout(entry, words, options.tray));
    const shown: JournalAnswer = {
      entries: found.slice(0, newest),
      more: all.more || found.length > newest,
    };
    if (options.json === true) return printJson(shown);
    for (const entry of [...shown.entries].reverse()) console.log(teller.line(entry));
    if (shown.entries.length === 0) console.log('Nothing of this kind in this time.');
    else if (shown.more)
      console.log(pc.dim(`Older ones are left out: --newest ${newest * 2}, or --until a day.`));
  } finally {
    await queries.close();
  }
}

const EXAMPLES = `
Examples:
  drybell journal                                   the newest 50 entries, the newest last
  drybell journal --kind water --since 2026-04-01 --newest 1000
  drybell journal heater                            every entry in which the word stands
  drybell journal --tray celery-1 --kind calls
  drybell journal --json                            for scripts; tables for a spreadsheet: drybell export --help`;

/** `drybell journal`: waterings, calls, rounds, questions and notes in words. */
export function register(program: Command): void {
  withJson(program.command('journal'), 'page-journal')
    .description(
      'Read what happened and what was said: waterings, calls, rounds, trays, questions and notes.',
    )
    .argument('[words...]', 'only entries with all of these words')
    .addOption(new Option('--kind <kind>', 'only entries of this kind').choices(GROUPS).default('all'))
    .option('--tray <id...>', 'only entries about these trays')
    .option('--since <day>', 'from this day or instant on (a year before the newest when absent)')
    .option('--until <day>', 'up to this day or instant (now when absent)')
    .option('--newest <count>', 'so many entries', '50')
    .option('--config <file>', 'configuration of the farm')
    .addHelpText('after', EXAMPLES)
    .action(journal);
}
