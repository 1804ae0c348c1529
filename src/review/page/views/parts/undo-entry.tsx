import { createContext } from 'preact';
import { useContext, useState } from 'preact/hooks';
import type { JournalEntry, JournalUndo } from '../../../../../shared/page/page-journal.js';
import { Icon } from '../../draw/icons.js';
import { useFarmNowMs, useHouse } from '../../house/house.js';

/** What the undo of a line rests on beside the line itself. */
export interface UndoBook {
  readonly canTell: boolean;
  /** How many standing lines each command has told, by ref. */
  readonly lineCount: ReadonlyMap<string, number>;
  /** Something was taken back: the journal is another. */
  readonly onUndone: () => void;
}

export const UndoBookContext = createContext<UndoBook>({
  canTell: false,
  lineCount: new Map(),
  onUndone: () => undefined,
});

/** The lines that each command has told. */
export function lineCounts(entries: readonly JournalEntry[]): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const { undo } of entries)
    if (undo !== undefined) counts.set(undo.ref, (counts.get(undo.ref) ?? 0) + 1);
  return counts;
}

/** The undo of one line, with what the house answered; why it stays where it does; nothing where its time is over. */
export function UndoEntry({ undo, what }: { readonly undo: JournalUndo; readonly what: string }) {
  const { teller, texts } = useHouse();
  const { canTell, lineCount, onUndone } = useContext(UndoBookContext);
  const nowMs = useFarmNowMs();
  const [answer, setAnswer] = useState('');
  const [isAsking, setIsAsking] = useState(false);
  const words = texts.journal;
  if ('stays' in undo) return <p class="line-stays">{undo.stays}</p>;
  if (!canTell || nowMs >= Date.parse(undo.until)) return null;
  const count = lineCount.get(undo.ref) ?? 1;
  const takeBack = async (): Promise<void> => {
    setIsAsking(true);
    const told = await teller.takeBack(undo.ref, words.undoOf(what));
    setIsAsking(false);
    setAnswer(told.sentence);
    if (told.state === 'undone' || told.state === 'done') onUndone();
  };
  return (
    <div class="line-undo">
      <button
        type="button"
        class="press press-small"
        aria-label={`${count > 1 ? words.undoAll(count) : words.undo}: ${what}`}
        disabled={isAsking}
        onClick={() => void takeBack()}
      >
        <Icon name="undo" />
        {count > 1 ? words.undoAll(count) : words.undo}
      </button>
      <p role="status">{isAsking ? texts.tell.sending : answer}</p>
    </div>
  );
}
