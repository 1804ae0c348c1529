import { useEffect, useMemo, useState } from 'preact/hooks';
import type { JournalAnswer, JournalEntry } from '../../../../../shared/page/page-journal.js';
import type { PagePresent } from '../../../../../shared/page/page-present.js';
import { pourKey, poursOnce } from '../../../../monitor/ports/pours-once.js';
import { clockOf, useHouse, useStore } from '../../house/house.js';
import { useAnswer } from '../../house/use-answer.js';
import { NoteWriter } from '../notes/note-writer.js';
import { AnswerFrame } from '../parts/answer-frame.js';
import { ChoiceRow } from '../parts/choice-row.js';
import { SpanBar } from '../parts/span-bar.js';
import { type ChosenSpan, spanQuery } from '../parts/span-query.js';
import { entryWords, GROUPS, type Group, groupOf, KINDS_OF } from './entry-words.js';
import { type JournalSearch, searched } from './fold-lines.js';
import { JournalLines } from './journal-lines.js';

const PAGE_LINES = 300;
/** As many as the house gives at once; a search goes through them. */
const MOST_LINES = 2000;
const YEAR: ChosenSpan = { days: 366 };
const NO_SEARCH: JournalSearch = { words: '', tray: undefined, bench: undefined };

/** Everything that happened, newest first, searchable, and a place to write. */
export function JournalView({ present }: { readonly present: PagePresent }) {
  const { store, texts } = useHouse();
  const { fresh } = useStore(store);
  const [nowMs] = useState(() => Date.parse(present.at));
  const [group, setGroup] = useState<Group>('all');
  const [span, setSpan] = useState<ChosenSpan>(YEAR);
  const [search, setSearch] = useState(NO_SEARCH);
  const [lines, setLines] = useState(PAGE_LINES);
  const isSearching = search.words.trim() !== '' || search.tray !== undefined || search.bench !== undefined;
  const kinds = KINDS_OF[group];
  const query = new URLSearchParams({
    limit: String(isSearching ? MOST_LINES : lines),
    ...(kinds === undefined ? {} : { kinds }),
  });
  // The year up to now is asked for without its ends: what happens while the page is open belongs to it.
  const asked = useAnswer<JournalAnswer>(
    `/api/journal?${query}${span === YEAR ? '' : `&${spanQuery(span, nowMs)}`}`,
  );
  const undoneCount = fresh.filter(
    ({ kind }) => kind === 'tray-event-undone' || kind === 'note-undone',
  ).length;
  // Somebody, here or elsewhere, took something back: the line itself says so.
  useEffect(() => {
    if (undoneCount > 0) asked.again();
  }, [undoneCount]);
  const words = texts.journal;
  return (
    <div class="review journal">
      <h1>{words.title}</h1>
      <NoteWriter present={present} />
      <fieldset class="choices">
        <legend class="spoken">{words.kinds}</legend>
        {GROUPS.map((one) => (
          <button
            key={one}
            type="button"
            class="press press-small"
            aria-pressed={one === group}
            onClick={() => {
              setGroup(one);
              setLines(PAGE_LINES);
            }}
          >
            {words.groups[one]}
          </button>
        ))}
      </fieldset>
      <details class="choices-of">
        <summary>{words.search}</summary>
        <SpanBar span={span} nowMs={nowMs} onSpan={setSpan} />
        <div class="curve-choices">
          <label class="field">
            <span>{words.searchWords}</span>
            <input
              type="search"
              value={search.words}
              onInput={(event) => setSearch({ ...search, words: event.currentTarget.value })}
            />
          </label>
          <ChoiceRow
            name={texts.review.curves.tray}
            options={present.trays.map(({ id }) => ({ value: id, words: id }))}
            chosen={search.tray}
            onChoose={(tray) => setSearch({ ...search, tray })}
          />
          <ChoiceRow
            name={texts.review.curves.bench}
            options={present.benches.map(({ id }) => ({ value: id, words: id }))}
            chosen={search.bench}
            onChoose={(bench) => setSearch({ ...search, bench })}
          />
        </div>
      </details>
      <AnswerFrame asked={asked}>
        {(answer) => (
          <>
            <Found
              present={present}
              entries={span === YEAR ? withFresh(answer.entries, fresh, group) : answer.entries}
              search={isSearching ? search : undefined}
              isAll={!answer.more}
              onUndone={asked.again}
            />
            {answer.more && !isSearching && (
              <button type="button" class="press" onClick={() => setLines(Math.min(MOST_LINES, lines * 2))}>
                {words.older}
              </button>
            )}
          </>
        )}
      </AnswerFrame>
    </div>
  );
}

interface FoundProps {
  readonly present: PagePresent;
  readonly entries: readonly JournalEntry[];
  readonly search: JournalSearch | undefined;
  /** False where the span holds more than was gone through. */
  readonly isAll: boolean;
  readonly onUndone: () => void;
}

function Found({ present, entries, search, isAll, onUndone }: FoundProps) {
  const { texts } = useHouse();
  const found = useMemo(() => {
    if (search === undefined) return entries;
    const clock = clockOf(present, texts);
    return searched(entries, search, present, (entry) => {
      const { words, whole, by } = entryWords(entry, present, clock, texts);
      return [words, whole, by].join(' ');
    });
  }, [entries, search, present, texts]);
  return (
    <>
      {search !== undefined && (
        <p role="status">
          {texts.journal.found(found.length)} {!isAll && texts.journal.foundIn(entries.length)}
        </p>
      )}
      <JournalLines present={present} entries={found} onUndone={onUndone} />
    </>
  );
}

/** What a line says, whatever has become of it since. */
function said(entry: JournalEntry): string {
  return JSON.stringify({ ...entry, undo: undefined, undone: undefined });
}

/** The lines that came while the page was open, before those that were fetched; each once. */
export function withFresh(
  fetched: readonly JournalEntry[],
  fresh: readonly JournalEntry[],
  group: Group,
): JournalEntry[] {
  const known = new Set(fetched.map(said));
  const pours = new Set(
    fetched.flatMap((entry) => (entry.kind === 'watering' ? [pourKey(entry.watering)] : [])),
  );
  const isNew = (entry: JournalEntry): boolean =>
    entry.kind === 'watering' && entry.watering.amends !== true
      ? !pours.has(pourKey(entry.watering))
      : !known.has(said(entry));
  const added = fresh.filter((entry) => (group === 'all' || groupOf(entry) === group) && isNew(entry));
  const oldestFirst = [...added, ...fetched].reverse();
  oldestFirst.sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  return [...poursOnce(oldestFirst)].reverse();
}
