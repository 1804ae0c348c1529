import { useState } from 'preact/hooks';
import { Icon } from '../../draw/icons.js';
import { useHouse } from '../../house/house.js';
import type { TrayStanding } from '../../state/tray-standing.js';

interface RoundDoneProps {
  readonly due: readonly TrayStanding[];
  readonly canTell: boolean;
}

/** One press for the whole round, and a second look at which trays were left out. */
export function RoundDone({ due, canTell }: RoundDoneProps) {
  const { texts, teller } = useHouse();
  const [asking, setAsking] = useState(false);
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  if (due.length === 0) return null;
  if (!asking)
    return (
      <div class="round-bar">
        <button type="button" class="press press-round" disabled={!canTell} onClick={() => setAsking(true)}>
          <Icon name="check" />
          {texts.roundDone.start}
        </button>
      </div>
    );
  const except = due.map((one) => one.tray.id).filter((id) => left.has(id));
  const toggle = (id: string): void => {
    const next = new Set(left);
    if (!next.delete(id)) next.add(id);
    setLeft(next);
  };
  const close = (): void => {
    setAsking(false);
    setLeft(new Set());
  };
  const label = except.length === 0 ? texts.roundDone.label : texts.roundDone.labelExcept(except.join(', '));
  return (
    <section class="round-bar round-asking" aria-labelledby="round-asking-title">
      <h2 id="round-asking-title">{texts.roundDone.title}</h2>
      <p>{texts.roundDone.hint}</p>
      <ul class="round-trays">
        {due.map(({ tray }) => (
          <li key={tray.id}>
            <label class="round-tray">
              <input
                type="checkbox"
                class="spoken"
                checked={!left.has(tray.id)}
                onChange={() => toggle(tray.id)}
              />
              <Icon name={left.has(tray.id) ? 'close' : 'drop'} />
              {tray.id}
            </label>
          </li>
        ))}
      </ul>
      <div class="presses">
        <button type="button" class="press" onClick={close}>
          {texts.roundDone.cancel}
        </button>
        <button
          type="button"
          class="press press-round"
          disabled={!canTell}
          onClick={() => {
            void teller.tell({ do: 'round-done', except }, label);
            close();
          }}
        >
          <Icon name="check" />
          {except.length === 0
            ? texts.roundDone.all(due.length)
            : texts.roundDone.except(except.length, due.length)}
        </button>
      </div>
    </section>
  );
}
