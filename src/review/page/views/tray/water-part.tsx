import { useState } from 'preact/hooks';
import { Icon } from '../../draw/icons.js';
import { useHouse } from '../../house/house.js';
import { trayStandings } from '../../state/tray-standing.js';
import { waterWords } from '../../texts/amounts/amounts.js';
import { waterStepMl } from '../../texts/amounts/typed-amounts.js';
import type { TrayPartProps } from './tray-part.js';

/** What the measure starts at where no dose is known. */
const START_ML = 500;
const MOST_ML = 20_000;

/** Watered: filled and the rest tipped out, or with a measure. */
export function WaterPart({ present, tray, onDone }: TrayPartProps) {
  const { texts, teller } = useHouse();
  const dose = trayStandings(present).find((one) => one.tray.id === tray.id)?.doseMl;
  const stepMl = waterStepMl(present.units);
  const [steps, setSteps] = useState(Math.max(1, Math.round((dose ?? START_ML) / stepMl)));
  const ml = Number((steps * stepMl).toFixed(1));
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
  const step = (by: number): void =>
    setSteps(Math.min(Math.floor(MOST_ML / stepMl), Math.max(1, steps + by)));
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
          aria-label={`−${waterWords(stepMl, present.units)}`}
          onClick={() => step(-1)}
        >
          −
        </button>
        <output aria-label={texts.tray.measuredLabel}>{waterWords(ml, present.units)}</output>
        <button
          type="button"
          class="press"
          aria-label={`+${waterWords(stepMl, present.units)}`}
          onClick={() => step(1)}
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
