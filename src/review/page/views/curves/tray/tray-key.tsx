import { Icon } from '../../../draw/icons.js';
import { useHouse } from '../../../house/house.js';

/** What is what on a tray's curve. */
export function TrayKey({ hasProbe }: { readonly hasProbe: boolean }) {
  const { texts } = useHouse();
  const words = texts.review.tray;
  return (
    <ul class="key">
      {hasProbe && (
        <li>
          <i class="key-probe" />
          {words.keyProbe}
        </li>
      )}
      {hasProbe && (
        <li>
          <i class="key-flag" />
          {words.keyFlag}
        </li>
      )}
      <li>
        <i class="key-model" />
        {words.keyModel}
      </li>
      <li>
        <i class="key-fan" />
        {words.keyFan}
      </li>
      <li class="key-water">
        <Icon name="drop" />
        {words.keyWater}
      </li>
      <li class="key-call">
        <Icon name="bell" />
        {words.keyCall}
      </li>
    </ul>
  );
}
