import type { Cover } from '../../../../../shared/config/trays.js';
import { useHouse } from '../../house/house.js';
import type { TrayPartProps } from './tray-part.js';

const COVERS: readonly Cover[] = ['none', 'film', 'loose-dome', 'tight-dome'];

/** Which cover lies on the tray. */
export function CoverPart({ tray, onDone }: TrayPartProps) {
  const { texts, teller } = useHouse();
  return (
    <section>
      <h3>{texts.tray.coverTitle}</h3>
      <fieldset class="choices">
        <legend class="spoken">{texts.tray.coverTitle}</legend>
        {COVERS.map((cover) => (
          <button
            key={cover}
            type="button"
            class="press"
            aria-pressed={cover === tray.cover}
            onClick={() => {
              const label = texts.tray.coverLabel(tray.id, texts.tray.covers[cover]);
              void teller.tell({ do: 'cover', tray: tray.id, cover }, label);
              onDone();
            }}
          >
            {texts.tray.covers[cover]}
          </button>
        ))}
      </fieldset>
    </section>
  );
}
