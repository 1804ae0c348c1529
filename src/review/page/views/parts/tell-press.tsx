import type { ComponentChildren } from 'preact';
import { Icon } from '../../draw/icons.js';
import { useHouse, useStore } from '../../house/house.js';
import { canUndo, isSameWish, type Told, type Wish } from '../../state/tell.js';

/** What was told since the hand came, or waits for the house: its press shows what became of it, and its undo. */
export function useToldHere(wish: Wish): Told | undefined {
  const { teller, hand } = useHouse();
  const { told } = useStore(teller.list);
  const { isNear, sinceMs } = useStore(hand.store);
  return told.find(
    (one) =>
      isSameWish(one.command, wish) &&
      (one.state === 'waiting' ||
        (isNear && one.toldAtMs >= sinceMs && (one.state === 'sending' || one.state === 'done'))),
  );
}

interface TellPressProps {
  readonly wish: Wish;
  readonly label: string;
  readonly class: string;
  readonly canTell: boolean;
  /** What a reader hears where the words alone do not name the tray. */
  readonly spoken?: string;
  readonly children: ComponentChildren;
}

/** One thing to tell. Once pressed it stays where it is, says so, and does nothing more until the hand is away. */
export function TellPress({ wish, label, class: look, canTell, spoken, children }: TellPressProps) {
  const { teller, texts } = useHouse();
  const told = useToldHere(wish);
  if (told !== undefined)
    return (
      <button type="button" class={`${look} press-told`} aria-disabled="true" aria-label={told.label}>
        <Icon name={told.state === 'done' ? 'check' : told.state === 'waiting' ? 'sleep' : 'more'} />
        <span>{told.state === 'sending' ? texts.tell.sending : texts.tell.states[told.state]}</span>
      </button>
    );
  return (
    <button
      type="button"
      class={look}
      disabled={!canTell}
      aria-label={spoken}
      onClick={() => teller.tell(wish, label, { isInPlace: true })}
    >
      {children}
    </button>
  );
}

/** Undo of what was just told, beside its press. */
export function UndoHere({ wish }: { readonly wish: Wish }) {
  const { teller, texts } = useHouse();
  const told = useToldHere(wish);
  if (told === undefined || !canUndo(told)) return null;
  return (
    <button type="button" class="press press-undo" onClick={() => teller.undo(told)}>
      <Icon name="undo" />
      {texts.tell.undo}
    </button>
  );
}
