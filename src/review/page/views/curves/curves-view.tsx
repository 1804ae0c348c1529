import type { PagePresent } from '../../../../../shared/page/page-present.js';
import { useHouse } from '../../house/house.js';
import { AllSizes } from './sizes/all-sizes.js';
import { TrayCurve } from './tray/tray-curve.js';

interface CurvesViewProps {
  readonly present: PagePresent;
  /** A tray, or undefined for all sizes. */
  readonly detail: string | undefined;
}

/** Drying curves: all block sizes side by side, or one tray. */
export function CurvesView({ present, detail }: CurvesViewProps) {
  const { texts } = useHouse();
  const trays = present.trays.map((tray) => tray.id);
  const known = detail === undefined || trays.includes(detail) ? trays : [detail, ...trays];
  return (
    <div class="review">
      <h1>{detail === undefined ? texts.review.curves.title : texts.review.tray.title(detail)}</h1>
      <label class="field tray-picker">
        <span class="spoken">{texts.review.curves.pickTray}</span>
        <select
          value={detail ?? ''}
          onChange={(event) => {
            const { value } = event.currentTarget;
            location.hash = value === '' ? '#curves' : `#curves/${encodeURIComponent(value)}`;
          }}
        >
          <option value="">{texts.review.curves.allSizes}</option>
          <optgroup label={texts.review.curves.oneTray}>
            {known.map((id) => (
              <option key={id} value={id}>
                {id}
              </option>
            ))}
          </optgroup>
        </select>
      </label>
      {detail === undefined ? (
        <AllSizes present={present} />
      ) : (
        <TrayCurve key={detail} present={present} trayId={detail} />
      )}
    </div>
  );
}
