import { useState } from 'preact/hooks';
import type { UnitsConfig } from '../../../../../../shared/config/notices.js';
import { useHouse } from '../../../house/house.js';
import { sizeWords } from '../../../texts/amounts/amounts.js';
import { lengthOfTyped, lengthTyped } from '../../../texts/amounts/typed-amounts.js';
import { BLOCK_SIZES } from './block-sizes.js';

/** As the contract has it: shared/config/trays.ts. */
const LEAST_SIDE_MM = 10;
const MOST_SIDE_MM = 300;
const TRADE_MM = BLOCK_SIZES.map(({ blockSideMm }) => blockSideMm);

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
  // a size that is pressed is written into the field; what is typed there stays as it is typed
  const [pressed, setPressed] = useState(0);
  const [written, setWritten] = useState(() => lengthTyped(size.blockSideMm, units));
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
            onClick={() => {
              setWritten(lengthTyped(blockSideMm, units));
              setPressed(pressed + 1);
              onSize({ blockSideMm, blockCount });
            }}
          >
            {texts.tray.templates[name]}
            <small>{texts.tray.blocks(blockCount, sizeWords(blockSideMm, units))}</small>
          </button>
        ))}
      </div>
      <div class="field-row">
        <label class="field">
          <span>{texts.tray.newSide(units.length)}</span>
          <input
            key={pressed}
            type="number"
            inputMode="decimal"
            min={lengthTyped(LEAST_SIDE_MM, units)}
            max={lengthTyped(MOST_SIDE_MM, units)}
            step="any"
            required
            defaultValue={`${written}`}
            onInput={(event) => {
              const { valueAsNumber } = event.currentTarget;
              const blockSideMm = lengthOfTyped(valueAsNumber, units, TRADE_MM);
              onSize({ ...size, blockSideMm });
            }}
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
