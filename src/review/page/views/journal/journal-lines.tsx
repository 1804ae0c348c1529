import type { ComponentChildren } from 'preact';
import { useMemo } from 'preact/hooks';
import type { JournalEntry } from '../../../../../shared/page/page-journal.js';
import type { PagePresent } from '../../../../../shared/page/page-present.js';
import { Icon } from '../../draw/icons.js';
import { clockOf, useHouse } from '../../house/house.js';
import { whyAddress } from '../../state/views.js';
import { waterWords } from '../../texts/amounts/amounts.js';
import { KeptPhoto } from '../notes/kept-photo.js';
import { concernOf } from '../now/call-card.js';
import { lineCounts, UndoBookContext, UndoEntry } from '../parts/undo-entry.js';
import { entryWords, groupOf } from './entry-words.js';
import { foldLines, type JournalLine } from './fold-lines.js';

interface LinesProps {
  readonly present: PagePresent;
  readonly entries: readonly JournalEntry[];
  readonly onUndone: () => void;
}

/** The journal day by day; what belongs together is one line that opens. */
export function JournalLines({ present, entries, onUndone }: LinesProps) {
  const { texts } = useHouse();
  const clock = clockOf(present, texts);
  const { canTell } = present;
  const book = useMemo(
    () => ({ canTell, lineCount: lineCounts(entries), onUndone }),
    [canTell, entries, onUndone],
  );
  const days = useMemo(() => {
    const byDay = new Map<string, JournalLine[]>();
    for (const line of foldLines(entries)) {
      const day = clock.dayKey(Date.parse(line.at));
      byDay.set(day, [...(byDay.get(day) ?? []), line]);
    }
    return [...byDay];
  }, [entries, clock]);
  if (entries.length === 0) return <p class="empty">{texts.journal.none}</p>;
  return (
    <UndoBookContext.Provider value={book}>
      {canTell && <p class="line-whole">{texts.journal.undoEnds}</p>}
      {days.map(([day, lines]) => (
        <section key={day}>
          <h2>{clock.day(Date.parse(lines[0]?.at ?? day))}</h2>
          <ol class="lines">
            {lines.map((line, place) => (
              <Line key={`${line.at} ${line.kind} ${place}`} line={line} present={present} />
            ))}
          </ol>
        </section>
      ))}
    </UndoBookContext.Provider>
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

function Line({ line, present }: { readonly line: JournalLine; readonly present: PagePresent }) {
  switch (line.kind) {
    case 'one':
      return <EntryLine entry={line.entry} present={present} />;
    case 'pours':
      return <PoursLine line={line} present={present} />;
    case 'call':
      return <CallLine line={line} present={present} />;
  }
}

interface EntryProps {
  readonly entry: JournalEntry;
  readonly present: PagePresent;
  /** The undo of all lines of its command stands elsewhere. */
  readonly isUndoApart?: boolean;
}

function EntryLine({ entry, present, isUndoApart = false }: EntryProps) {
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
          {entry.kind === 'note' && <span class="spoken">{texts.journal.noteText}: </span>}
          <b>{words}</b>
          {by !== undefined && <small> {texts.journal.by(by)}</small>}
          {undone && <small> {texts.journal.undone}</small>}
        </p>
        {whole !== undefined && <p class="line-whole">{whole}</p>}
        {entry.kind === 'note' && entry.photo !== undefined && !undone && (
          <KeptPhoto id={entry.photo} of={words} />
        )}
        {entry.undo !== undefined && !isUndoApart && <UndoEntry undo={entry.undo} what={words} />}
      </div>
    </li>
  );
}

interface FoldedProps {
  readonly at: string;
  readonly group: 'water' | 'calls';
  readonly title: string;
  readonly short: string;
  readonly present: PagePresent;
  readonly children: ComponentChildren;
}

function Folded({ at, group, title, short, present, children }: FoldedProps) {
  const { texts } = useHouse();
  return (
    <li class={`line line-${group}`}>
      <time dateTime={at}>{clockOf(present, texts).timeOfDay(Date.parse(at))}</time>
      <Icon name={ICONS[group]} />
      <details class="line-folded">
        <summary>
          <b>{title}</b> <small>{short}</small>
        </summary>
        <ol>{children}</ol>
      </details>
    </li>
  );
}

function PoursLine({
  line,
  present,
}: {
  readonly line: Extract<JournalLine, { kind: 'pours' }>;
  readonly present: PagePresent;
}) {
  const { texts } = useHouse();
  const trays = [...new Set(line.entries.map(({ watering }) => watering.tray))];
  const ml = line.entries.reduce((sum, { watering }) => sum + (watering.takenUpMl ?? watering.ml ?? 0), 0);
  const names = trays.join(', ');
  const counts = lineCounts(line.entries);
  // One word that watered several trays is taken back once, for all of them.
  const together = [
    ...new Map(
      line.entries.flatMap(({ undo }) =>
        undo !== undefined && (counts.get(undo.ref) ?? 0) > 1 ? [[undo.ref, undo] as const] : [],
      ),
    ).values(),
  ];
  return (
    <Folded
      at={line.at}
      group="water"
      title={texts.journal.pours(trays.length)}
      short={ml > 0 ? `${waterWords(ml, present.units)} · ${names}` : names}
      present={present}
    >
      {line.entries.map((entry) => (
        <EntryLine
          key={`${entry.at} ${entry.watering.tray}`}
          entry={entry}
          present={present}
          isUndoApart={(counts.get(entry.undo?.ref ?? '') ?? 0) > 1}
        />
      ))}
      {together.map((undo) => (
        <li key={undo.ref}>
          <UndoEntry undo={undo} what={texts.journal.pours(counts.get(undo.ref) ?? 0)} />
        </li>
      ))}
    </Folded>
  );
}

function CallLine({
  line,
  present,
}: {
  readonly line: Extract<JournalLine, { kind: 'call' }>;
  readonly present: PagePresent;
}) {
  const { texts } = useHouse();
  const clock = clockOf(present, texts);
  const [first] = line.alarms;
  if (first === undefined) return null;
  const { kind } = first.transition;
  const steps = line.alarms.map(
    ({ transition: { state, at } }) =>
      `${texts.journal.states[state]} ${clock.when(Date.parse(at), Date.parse(line.at))}`,
  );
  return (
    <Folded
      at={line.at}
      group="calls"
      title={texts.call.plain(texts.call.kinds[kind], concernOf(first.transition))}
      short={steps.join(' · ')}
      present={present}
    >
      {line.steps.map((entry, place) => (
        <EntryLine key={`${entry.at} ${place}`} entry={entry} present={present} />
      ))}
      {first.transition.tray !== undefined && (
        <li>
          <a class="press press-small" href={whyAddress(first.transition.tray, first.transition.at)}>
            <Icon name="why" />
            {texts.why.openCall}
          </a>
        </li>
      )}
    </Folded>
  );
}
