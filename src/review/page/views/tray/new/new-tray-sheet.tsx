import { useState } from 'preact/hooks';
import type { PagePresent } from '../../../../../../shared/page/page-present.js';
import { useHouse } from '../../../house/house.js';
import { Sheet } from '../../parts/sheet.js';
import { BLOCK_SIZES } from './block-sizes.js';
import { nextTrayName } from './next-tray-name.js';
import { type BlockSize, SizeField } from './size-field.js';

interface NewTraySheetProps {
  readonly present: PagePresent;
  readonly onClose: () => void;
}

/** A new tray from a template by block size. */
export function NewTraySheet({ present, onClose }: NewTraySheetProps) {
  const { texts, teller } = useHouse();
  const [name, setName] = useState(() => nextTrayName(present.trays));
  const [crop, setCrop] = useState('');
  const [bench, setBench] = useState(present.benches[0]?.id ?? '');
  const [sown, setSown] = useState(true);
  const [size, setSize] = useState<BlockSize>(BLOCK_SIZES[0]);
  const taken = present.trays.some((tray) => tray.id === name);
  const submit = (): void => {
    const { blockSideMm, blockCount } = size;
    const wish = {
      do: 'new-tray',
      tray: name,
      bench,
      blockSideMm,
      blockCount,
      ...(crop.trim() === '' ? {} : { crop: crop.trim() }),
      ...(sown ? { sownAt: present.at } : {}),
    } as const;
    void teller.tell(wish, texts.tray.newLabel(name));
    onClose();
  };
  return (
    <Sheet title={texts.tray.newTitle} onClose={onClose}>
      <h2>{texts.tray.newTitle}</h2>
      <form
        class="new-tray"
        onSubmit={(event) => {
          event.preventDefault();
          if (!taken) submit();
        }}
      >
        <div class="field-row">
          <label class="field">
            <span>{texts.tray.newName}</span>
            <input
              required
              pattern="[A-Za-z0-9_\-]{1,40}"
              title={texts.tray.nameForm}
              aria-invalid={taken}
              value={name}
              onInput={(event) => setName(event.currentTarget.value)}
            />
          </label>
          <label class="field">
            <span>{texts.tray.newCrop}</span>
            <input
              maxLength={80}
              value={crop}
              autoCapitalize="none"
              onInput={(event) => setCrop(event.currentTarget.value)}
            />
          </label>
        </div>
        {taken && <p class="problem">{texts.tray.nameTaken(name)}</p>}
        <SizeField size={size} units={present.units} onSize={setSize} />
        <fieldset>
          <legend>{texts.tray.newBench}</legend>
          <div class="choices">
            {present.benches.map(({ id }) => (
              <button
                key={id}
                type="button"
                class="press"
                aria-pressed={id === bench}
                onClick={() => setBench(id)}
              >
                {id}
              </button>
            ))}
          </div>
        </fieldset>
        <button type="button" class="press" aria-pressed={sown} onClick={() => setSown(!sown)}>
          {texts.tray.newSownNow}
        </button>
        <button type="submit" class="press press-round press-wide" disabled={!present.canTell || taken}>
          {texts.tray.newPut}
        </button>
      </form>
    </Sheet>
  );
}
