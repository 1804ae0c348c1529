import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { Icon } from '../../draw/icons.js';
import { useHouse } from '../../house/house.js';

interface SheetProps {
  readonly title: string;
  readonly onClose: () => void;
  readonly children: ComponentChildren;
}

/** A sheet over the page: focus stays in it, Escape and a press beside it close it. */
export function Sheet({ title, onClose, children }: SheetProps) {
  const { texts } = useHouse();
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const element = dialog.current;
    if (element === null || element.open) return;
    element.showModal();
    // The sheet itself, not its first field: on a phone that would open the keyboard.
    element.focus();
  }, []);
  return (
    <dialog
      ref={dialog}
      class="sheet"
      aria-label={title}
      tabIndex={-1}
      onClose={onClose}
      onClick={(event) => {
        if (event.target === dialog.current) dialog.current?.close();
      }}
      onKeyDown={(event) => {
        if (event.key === 'Escape') dialog.current?.close();
      }}
    >
      <div class="sheet-inner">{children}</div>
      <div class="sheet-foot">
        <button type="button" class="press press-wide" onClick={() => dialog.current?.close()}>
          <Icon name="close" />
          {texts.tray.close}
        </button>
      </div>
    </dialog>
  );
}
