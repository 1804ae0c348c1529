import type { UnitsConfig } from '../../../../../../shared/config/notices.js';
import { useHouse } from '../../../house/house.js';
import { sizeWords } from '../../../texts/amounts/amounts.js';
import { BLOCK_SIZES } from './block-sizes.js';

export interface BlockSize {
  readonly blockSideMm: number;
  readonly blockCount: number;
}

interface SizeFieldProps {
  readonly size: BlockSize;
  readonly units: UnitsConfig;
  readonly onSize: (size: BlockSize) => void;
}

/** One of the trade's sizes by one press, or any other by side and count. */
export function SizeField({ size, units, onSize }: SizeFieldProps) {
  const { texts } = useHouse();
  return (
    <fieldset class="size-field">
      <legend>{texts.tray.newSize}</legend>
      <div class="choices">
        {BLOCK_SIZES.map(({ name, blockSideMm, blockCount }) => (
          <button
            key={name}
            type="button"
            class="press"
            aria-pressed={blockSideMm === size.blockSideMm}
            onClick={() => onSize({ blockSideMm, blockCount })}
          >
            {texts.tray.templates[name]}
            <small>{texts.tray.blocks(blockCount, sizeWords(blockSideMm, units))}</small>
          </button>
        ))}
      </div>
      <div class="field-row">
        <label class="field">
          <span>{texts.tray.newSide}</span>
          <input
            type="number"
            inputMode="decimal"
            min="10"
            max="300"
            step="any"
            required
            value={size.blockSideMm}
            onInput={(event) => onSize({ ...size, blockSideMm: event.currentTarget.valueAsNumber })}
          />
        </label>
        <label class="field">
          <span>{texts.tray.newCount}</span>
          <input
            type="number"
            inputMode="numeric"
            min="1"
            max="2000"
            step="1"
            required
            value={size.blockCount}
            onInput={(event) => onSize({ ...size, blockCount: event.currentTarget.valueAsNumber })}
          />
        </label>
      </div>
    </fieldset>
  );
}
