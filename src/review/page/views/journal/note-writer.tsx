import { useState } from 'preact/hooks';
import type { PagePresent } from '../../../../../shared/page/page-present.js';
import { Icon } from '../../draw/icons.js';
import { useHouse } from '../../house/house.js';

const MOST_LETTERS = 2000;

/** A note about the farm or one tray. What was not told stays in the field. */
export function NoteWriter({ present }: { readonly present: PagePresent }) {
  const { texts, teller } = useHouse();
  const words = texts.journal;
  const [text, setText] = useState('');
  const [tray, setTray] = useState('');
  const keep = async (): Promise<void> => {
    const about = tray === '' ? {} : { tray };
    const told = await teller.tell({ do: 'note', text: text.trim(), ...about }, words.noteLabel);
    if (told.state === 'done') setText('');
  };
  return (
    <details class="note-writer">
      <summary class="press">
        <Icon name="plus" />
        {words.write}
      </summary>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void keep();
        }}
      >
        <label class="field">
          <span>{words.noteText}</span>
          <textarea
            required
            rows={4}
            maxLength={MOST_LETTERS}
            value={text}
            onInput={(event) => setText(event.currentTarget.value)}
          />
        </label>
        <div class="field-row">
          <label class="field">
            <span>{words.noteTray}</span>
            <select value={tray} onChange={(event) => setTray(event.currentTarget.value)}>
              <option value="">{words.noTray}</option>
              {present.trays.map(({ id }) => (
                <option key={id} value={id}>
                  {id}
                </option>
              ))}
            </select>
          </label>
          <button type="submit" class="press press-round" disabled={!present.canTell || text.trim() === ''}>
            {words.keep}
          </button>
        </div>
      </form>
    </details>
  );
}
