import { useMemo, useState } from 'preact/hooks';
import type { JournalAnswer, JournalEntry } from '../../../../../shared/page-journal.js';
import type { PagePresent } from '../../../../../shared/page-present.js';
import { Icon } from '../../draw/icons.js';
import { clockOf, useHouse, useStore } from '../../house/house.js';
import { useAnswer } from '../../house/use-answer.js';
import { AnswerFrame } from '../parts/answer-frame.js';
import { entryWords, GROUPS, type Group, groupOf, KINDS_OF } from './entry-words.js';
import { NoteWriter } from './note-writer.js';

const PAGE_LINES = 150;

/** Everything that happened, newest first, and a place to write. */
export function JournalView({ present }: { readonly present: PagePresent }) {
  const { store, texts } = useHouse();
  const { fresh } = useStore(store);
  const [group, setGroup] = useState<Group>('all');
  const [lines, setLines] = useState(PAGE_LINES);
  const kinds = KINDS_OF[group];
  const query = new URLSearchParams({ limit: String(lines), ...(kinds === undefined ? {} : { kinds }) });
  const asked = useAnswer<JournalAnswer>(`/api/journal?${query}`);
  const words = texts.journal;
  return (
    <div class="review journal">
      <h1>{words.title}</h1>
      <NoteWriter present={present} />
      <fieldset class="choices">
        <legend class="spoken">{words.lead}</legend>
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
      <AnswerFrame asked={asked}>
        {(answer) => (
          <>
            <Lines present={present} entries={withFresh(answer.entries, fresh, group)} />
            {answer.more && (
              <button type="button" class="press" onClick={() => setLines(Math.min(2000, lines * 2))}>
                {words.older}
              </button>
            )}
          </>
        )}
      </AnswerFrame>
    </div>
  );
}

/** The lines that came while the page was open, before those that were fetched; each once. */
export function withFresh(
  fetched: readonly JournalEntry[],
  fresh: readonly JournalEntry[],
  group: Group,
): JournalEntry[] {
  const known = new Set(fetched.map((entry) => JSON.stringify(entry)));
  const added = fresh.filter(
    (entry) => (group === 'all' || groupOf(entry) === group) && !known.has(JSON.stringify(entry)),
  );
  return [...added, ...fetched].sort((a, b) => Date.parse(b.at) - Date.parse(a.at));
}

function Lines({
  present,
  entries,
}: {
  readonly present: PagePresent;
  readonly entries: readonly JournalEntry[];
}) {
  const { texts } = useHouse();
  const clock = clockOf(present, texts);
  const days = useMemo(() => {
    const byDay = new Map<string, JournalEntry[]>();
    for (const entry of entries) {
      const day = clock.dayKey(Date.parse(entry.at));
      byDay.set(day, [...(byDay.get(day) ?? []), entry]);
    }
    return [...byDay];
  }, [entries, clock]);
  if (entries.length === 0) return <p class="empty">{texts.journal.none}</p>;
  return (
    <>
      {days.map(([day, ofDay]) => (
        <section key={day}>
          <h2>{clock.day(Date.parse(ofDay[0]?.at ?? day))}</h2>
          <ol class="lines">
            {ofDay.map((entry, place) => (
              <Line key={`${entry.at} ${entry.kind} ${place}`} entry={entry} present={present} />
            ))}
          </ol>
        </section>
      ))}
    </>
  );
}

const ICONS = {
  water: 'drop',
  calls: 'bell',
  rounds: 'check',
  trays: 'now',
  notes: 'journal',
  house: 'probes',
} as const;

function Line({ entry, present }: { readonly entry: JournalEntry; readonly present: PagePresent }) {
  const { texts } = useHouse();
  const clock = clockOf(present, texts);
  const { words, whole, by, undone } = entryWords(entry, present, clock, texts);
  const group = groupOf(entry);
  return (
    <li class={`line line-${group}${undone ? ' line-undone' : ''}`}>
      <time dateTime={entry.at}>{clock.timeOfDay(Date.parse(entry.at))}</time>
      <Icon name={ICONS[group]} />
      <div>
        <p>
          <b>{words}</b>
          {by !== undefined && <small> {texts.journal.by(by)}</small>}
          {undone && <small> {texts.journal.undone}</small>}
        </p>
        {whole !== undefined && <p class="line-whole">{whole}</p>}
      </div>
    </li>
  );
}
