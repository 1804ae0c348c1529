import type { PagePresent } from '../../../../../shared/page/page-present.js';
import { Icon } from '../../draw/icons.js';
import { useHouse } from '../../house/house.js';
import { NoteForm } from './note-form.js';

/** A note about the farm or one tray. */
export function NoteWriter({ present }: { readonly present: PagePresent }) {
  const { texts } = useHouse();
  return (
    <details class="note-writer">
      <summary class="press">
        <Icon name="plus" />
        {texts.journal.write}
      </summary>
      <NoteForm trays={present.trays.map(({ id }) => id)} canTell={present.canTell} />
    </details>
  );
}
