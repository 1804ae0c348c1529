import { useState } from 'preact/hooks';
import { useHouse } from '../../house/house.js';
import { PhotoField } from './photo-field.js';
import type { SmallPhoto } from './small-photo.js';

const MOST_LETTERS = 2000;

interface NoteFormProps {
  /** The tray that it is about; absent: one of `trays`, or the farm. */
  readonly tray?: string | undefined;
  readonly trays?: readonly string[];
  readonly canTell: boolean;
  readonly onKept?: () => void;
}

/** A note, with a photo where there is one. What the house refused stays in the fields. */
export function NoteForm({ tray, trays = [], canTell, onKept }: NoteFormProps) {
  const { texts, teller } = useHouse();
  const words = texts.journal;
  const [text, setText] = useState('');
  const [about, setAbout] = useState(tray ?? '');
  const [photo, setPhoto] = useState<SmallPhoto>();
  const isEmpty = text.trim() === '' && photo === undefined;
  const keep = async (): Promise<void> => {
    const said = text.trim() === '' ? words.photoText : text.trim();
    const told = await teller.tell(
      { do: 'note', text: said, ...(about === '' ? {} : { tray: about }) },
      about === '' ? words.noteLabel : texts.tray.noteLabel(about),
      { photo: photo?.jpeg },
    );
    if (told.state === 'refused') return;
    setText('');
    setPhoto(undefined);
    onKept?.();
  };
  return (
    <form
      class="asked"
      onSubmit={(event) => {
        event.preventDefault();
        void keep();
      }}
    >
      <label class="field">
        <span>{words.noteText}</span>
        <textarea
          rows={4}
          maxLength={MOST_LETTERS}
          value={text}
          onInput={(event) => setText(event.currentTarget.value)}
        />
      </label>
      <PhotoField photo={photo} onPhoto={setPhoto} />
      <div class="field-row">
        {tray === undefined && (
          <label class="field">
            <span>{words.noteTray}</span>
            <select value={about} onChange={(event) => setAbout(event.currentTarget.value)}>
              <option value="">{words.noTray}</option>
              {trays.map((id) => (
                <option key={id} value={id}>
                  {id}
                </option>
              ))}
            </select>
          </label>
        )}
        <button type="submit" class="press press-round" disabled={!canTell || isEmpty}>
          {words.keep}
        </button>
      </div>
    </form>
  );
}
