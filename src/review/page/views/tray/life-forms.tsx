import { useHouse } from '../../house/house.js';
import { weightWords } from '../../texts/amounts/amounts.js';
import { gramsTyped, weightFields } from '../../texts/amounts/typed-amounts.js';
import type { TrayPartProps } from './tray-part.js';

export function WeighForm({ present, tray, onDone }: TrayPartProps) {
  const { texts, teller } = useHouse();
  const { units } = present;
  const [first, ...rest] = weightFields(units);
  return (
    <form
      class="asked"
      onSubmit={(event) => {
        event.preventDefault();
        const typed = new FormData(event.currentTarget);
        const grams = gramsTyped((unit) => Number(typed.get(unit)), units);
        const label = texts.tray.weighedLabel(tray.id, weightWords(grams, units));
        void teller.tell({ do: 'weighed', tray: tray.id, grams }, label);
        onDone();
      }}
    >
      {[first, ...rest].map((unit) => (
        <label key={unit} class="field">
          <span>{unit === first ? texts.tray.weighUnit(unit) : unit}</span>
          <input
            name={unit}
            type="number"
            inputMode="decimal"
            min={rest.length === 0 ? 1 : 0}
            max={50_000}
            step="any"
            required={unit === first}
          />
        </label>
      ))}
      <button type="submit" class="press">
        {texts.tray.tell}
      </button>
    </form>
  );
}

export function MoveForm({ present, tray, onDone }: TrayPartProps) {
  const { texts, teller } = useHouse();
  return (
    <fieldset class="asked choices">
      <legend class="spoken">{texts.tray.moveTo}</legend>
      {present.benches
        .filter((bench) => bench.id !== tray.bench)
        .map((bench) => (
          <button
            key={bench.id}
            type="button"
            class="press"
            onClick={() => {
              const label = texts.tray.movedLabel(tray.id, bench.id);
              void teller.tell({ do: 'move', tray: tray.id, bench: bench.id }, label);
              onDone();
            }}
          >
            {`${texts.tray.moveTo} ${bench.id}`}
          </button>
        ))}
    </fieldset>
  );
}

export function AttachForm({ present, tray, onDone }: TrayPartProps) {
  const { texts, teller } = useHouse();
  const probes = present.probes.filter(
    (probe) => probe.kind === 'block-moisture' || probe.kind === 'tray-weight',
  );
  if (probes.length === 0) return <p class="hint">{texts.tray.noProbes}</p>;
  return (
    <fieldset class="asked choices">
      <legend class="spoken">{texts.tray.attachProbe}</legend>
      {probes.map((probe) => (
        <button
          key={probe.id}
          type="button"
          class="press"
          aria-pressed={probe.tray === tray.id}
          onClick={() => {
            const label = texts.tray.attachedLabel(probe.id, tray.id);
            void teller.tell({ do: 'attach', probe: probe.id, tray: tray.id }, label);
            onDone();
          }}
        >
          {probe.id}
        </button>
      ))}
    </fieldset>
  );
}

export function EndForm({ tray, onDone }: TrayPartProps) {
  const { texts, teller } = useHouse();
  return (
    <div class="asked">
      <p>{texts.tray.endSure}</p>
      <button
        type="button"
        class="press press-seen"
        onClick={() => {
          void teller.tell({ do: 'end', tray: tray.id }, texts.tray.endLabel(tray.id));
          onDone();
        }}
      >
        {texts.tray.endYes}
      </button>
    </div>
  );
}
