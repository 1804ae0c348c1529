import { useState } from 'preact/hooks';
import { useHouse } from '../../house/house.js';
import { BLOCK_SIZES } from './new/block-sizes.js';
import { nextTrayName } from './new/next-tray-name.js';
import { type BlockSize, SizeField } from './new/size-field.js';
import type { TrayPartProps } from './tray-part.js';

/** Into which tray of larger blocks the seedlings go. */
export function PotOnForm({ present, tray, onDone }: TrayPartProps) {
  const { texts, teller } = useHouse();
  const larger = BLOCK_SIZES.find((size) => size.blockSideMm > tray.blockSideMm) ?? BLOCK_SIZES[2];
  const [name, setName] = useState(() => nextTrayName(present.trays));
  const [size, setSize] = useState<BlockSize>({
    blockSideMm: larger.blockSideMm,
    blockCount: larger.blockCount,
  });
  return (
    <form
      class="asked"
      onSubmit={(event) => {
        event.preventDefault();
        const label = texts.tray.potOnLabel(tray.id, name);
        void teller.tell({ do: 'pot-on', tray: tray.id, toTray: name, ...size }, label);
        onDone();
      }}
    >
      <label class="field">
        <span>{texts.tray.potOnTo}</span>
        <input
          required
          pattern="[A-Za-z0-9_\-]{1,40}"
          title={texts.tray.nameForm}
          value={name}
          onInput={(event) => setName(event.currentTarget.value)}
        />
      </label>
      <SizeField size={size} units={present.units} onSize={setSize} />
      <button type="submit" class="press">
        {texts.tray.tell}
      </button>
    </form>
  );
}
