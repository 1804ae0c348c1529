import { soilColour } from '../../draw/trays/soil-colour.js';
import { useHouse } from '../../house/house.js';
import { LOOK_LEVELS } from './look-levels.js';
import type { TrayPartProps } from './tray-part.js';

/** The five-step scale as five pieces of soil, and "ready for water", which teaches the refill point. */
export function LookPart({ tray, onDone }: TrayPartProps) {
  const { texts, teller } = useHouse();
  return (
    <section>
      <h3>{texts.tray.lookTitle}</h3>
      <div class="looks">
        {LOOK_LEVELS.map(({ level, moistureIndex }) => {
          const word = texts.tray.looks[level - 1] ?? '';
          return (
            <button
              key={level}
              type="button"
              class="look"
              onClick={() => {
                const label = texts.tray.lookedLabel(tray.id, word);
                void teller.tell({ do: 'looked', tray: tray.id, level }, label);
                onDone();
              }}
            >
              <i
                class={level === 5 ? 'look-soil look-wet' : 'look-soil'}
                style={{ background: soilColour(moistureIndex) }}
              />
              {word}
            </button>
          );
        })}
      </div>
      <button
        type="button"
        class="press press-wide"
        onClick={() => {
          void teller.tell({ do: 'ready-for-water', tray: tray.id }, texts.tray.readyLabel(tray.id));
          onDone();
        }}
      >
        {texts.tray.ready}
      </button>
      <p class="hint">{texts.tray.readyHint}</p>
    </section>
  );
}
