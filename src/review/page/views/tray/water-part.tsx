import { useState } from 'preact/hooks';
import { Icon } from '../../draw/icons.js';
import { useHouse } from '../../house/house.js';
import { trayStandings } from '../../state/tray-standing.js';
import { waterWords } from '../../texts/amounts/amounts.js';
import type { TrayPartProps } from './tray-part.js';

const STEP_ML = 50;
/** What the measure starts at where no dose is known. */
const START_ML = 500;
const MOST_ML = 20_000;

/** Watered: filled and the rest tipped out, or with a measure. */
export function WaterPart({ present, tray, onDone }: TrayPartProps) {
  const { texts, teller } = useHouse();
  const dose = trayStandings(present).find((one) => one.tray.id === tray.id)?.doseMl;
  const [ml, setMl] = useState(Math.round((dose ?? START_ML) / STEP_ML) * STEP_ML);
  const tell = (poured: number | undefined): void => {
    const label =
      poured === undefined
        ? texts.tray.wateredFilled(tray.id)
        : texts.tray.wateredMl(tray.id, waterWords(poured, present.units));
    void teller.tell(
      { do: 'watered', tray: tray.id, ...(poured === undefined ? {} : { ml: poured }) },
      label,
    );
    onDone();
  };
  const step = (by: number): void => setMl(Math.min(MOST_ML, Math.max(STEP_ML, ml + by)));
  return (
    <section>
      <h3>{texts.tray.waterTitle}</h3>
      <button type="button" class="press press-water press-wide" onClick={() => tell(undefined)}>
        <Icon name="drop" />
        {texts.tray.filled}
      </button>
      <fieldset class="measure">
        <legend>{texts.tray.measured}</legend>
        <button
          type="button"
          class="press"
          aria-label={`−${waterWords(STEP_ML, present.units)}`}
          onClick={() => step(-STEP_ML)}
        >
          −
        </button>
        <output aria-label={texts.tray.measuredLabel}>{waterWords(ml, present.units)}</output>
        <button
          type="button"
          class="press"
          aria-label={`+${waterWords(STEP_ML, present.units)}`}
          onClick={() => step(STEP_ML)}
        >
          +
        </button>
        <button type="button" class="press press-water" onClick={() => tell(ml)}>
          {texts.tray.tell}
        </button>
      </fieldset>
    </section>
  );
}
