import type { JournalAnswer, JournalEntry } from '../../../../../shared/page/page-journal.js';
import type { PagePresent } from '../../../../../shared/page/page-present.js';
import { clockOf, useHouse } from '../../house/house.js';
import { useAnswer } from '../../house/use-answer.js';
import { lineCounts, UndoBookContext, UndoEntry } from '../parts/undo-entry.js';
import { KeptPhoto } from './kept-photo.js';

type NoteEntry = Extract<JournalEntry, { kind: 'note' }>;

/** Notes gone through for a strip; a season has a few hundred. */
const MOST_NOTES = 1000;
/** More photos make a page that nobody scrolls (judgement); the journal has all. */
const MOST_SHOWN = 24;

interface NotesStripProps {
  readonly present: PagePresent;
  /** `from` and `to` of the request. */
  readonly span: string;
  /** Absent: those with a photo, of the whole farm. */
  readonly tray?: string;
}

/** What was written and photographed in a span, newest first. */
export function NotesStrip({ present, span, tray }: NotesStripProps) {
  const { texts } = useHouse();
  const clock = clockOf(present, texts);
  const { answer, again } = useAnswer<JournalAnswer>(`/api/journal?kinds=note&limit=${MOST_NOTES}&${span}`);
  const notes = (answer?.entries ?? [])
    .filter((entry): entry is NoteEntry => entry.kind === 'note' && entry.undone !== true)
    .filter((note) => (tray === undefined ? note.photo !== undefined : note.tray === tray));
  if (notes.length === 0) return null;
  const book = { canTell: present.canTell, lineCount: lineCounts(notes), onUndone: again };
  return (
    <UndoBookContext.Provider value={book}>
      <section class="notes-strip">
        <h2>{texts.journal.photos}</h2>
        <ul>
          {notes.slice(0, MOST_SHOWN).map((note) => (
            <li key={`${note.at} ${note.text}`}>
              {note.photo !== undefined && (
                <KeptPhoto id={note.photo} of={note.tray ?? texts.journal.noTray} />
              )}
              <p>
                <time dateTime={note.at}>{clock.day(Date.parse(note.at))}</time>{' '}
                {tray === undefined && note.tray !== undefined && <b>{note.tray} </b>}
                {note.text}
                {note.by !== undefined && <small> {texts.journal.by(note.by)}</small>}
              </p>
              {note.undo !== undefined && 'until' in note.undo && (
                <UndoEntry undo={note.undo} what={note.text} />
              )}
            </li>
          ))}
        </ul>
        {notes.length > MOST_SHOWN && (
          <p class="hint">{texts.journal.photosMore(notes.length - MOST_SHOWN)}</p>
        )}
      </section>
    </UndoBookContext.Provider>
  );
}
