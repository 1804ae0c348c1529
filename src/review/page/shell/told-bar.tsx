import { useEffect, useState } from 'preact/hooks';
import { Icon } from '../draw/icons.js';
import { useHouse, useStore } from '../house/house.js';
import { canUndo, type Told } from '../state/tell.js';

/** What was just told stays in reach of the thumb for this long. */
const SHOWN_MS = 15_000;

/** What was told last and what the house answered, with undo; one that was not told stays until it is dealt with. */
export function ToldBar() {
  const { teller, texts, hand } = useHouse();
  const { told } = useStore(teller.list);
  const { isNear, sinceMs } = useStore(hand.store);
  const [dismissed, setDismissed] = useState('');
  const [, redraw] = useState(0);
  const latest = told[0];
  useEffect(() => {
    const timer = setTimeout(() => redraw((count) => count + 1), SHOWN_MS + 50);
    return () => clearTimeout(timer);
  }, [latest]);
  // Under the finger it is shown by its own press, and nothing may come over that.
  const isUnderFinger = latest?.isInPlace === true && isNear && latest.toldAtMs >= sinceMs;
  const shown =
    latest !== undefined &&
    !(isUnderFinger && (latest.state === 'done' || latest.state === 'sending')) &&
    dismissed !== `${latest.ref} ${latest.state}` &&
    (latest.state === 'not-told' || latest.state === 'refused' || Date.now() - latest.toldAtMs < SHOWN_MS);
  return (
    <div class="told-place" role="status" aria-live="polite">
      {shown && (
        <div class={`told told-${latest.state}`}>
          <p>
            <b>{latest.label}</b>
            <span>{latest.state === 'sending' ? texts.tell.sending : latest.sentence}</span>
          </p>
          <ToldPresses told={latest} />
          <button
            type="button"
            class="told-close"
            aria-label={texts.tell.dismiss}
            onClick={() => setDismissed(`${latest.ref} ${latest.state}`)}
          >
            <Icon name="close" />
          </button>
        </div>
      )}
    </div>
  );
}

/** Undo for what was done, tell again for what was not told. */
export function ToldPresses({ told }: { readonly told: Told }) {
  const { teller, texts } = useHouse();
  if (told.state === 'not-told')
    return (
      <button type="button" class="press" onClick={() => teller.again(told)}>
        {texts.tell.again}
      </button>
    );
  if (!canUndo(told)) return null;
  return (
    <button type="button" class="press" onClick={() => teller.undo(told)}>
      <Icon name="undo" />
      {texts.tell.undo}
    </button>
  );
}
