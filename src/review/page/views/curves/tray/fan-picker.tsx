import { MS_PER_HOUR } from '../../../../../../shared/base/time-units.js';
import type { TrayCurveAnswer } from '../../../../../../shared/page/page-review.js';
import { useHouse } from '../../../house/house.js';
import type { FarmClockWords } from '../../../texts/farm-clock.js';

interface FanPickerProps {
  readonly answer: TrayCurveAnswer;
  readonly fan: number;
  readonly onFan: (fan: number) => void;
  readonly clock: FarmClockWords;
  readonly nowMs: number;
}

/** Picks the forecast whose fan is drawn, so that one can see how earlier ones came true. */
export function FanPicker({ answer, fan, onFan, clock, nowMs }: FanPickerProps) {
  const { texts } = useHouse();
  const words = texts.review.tray;
  const { atS, p10H, p50H, p90H } = answer.forecasts;
  const madeS = atS[fan];
  if (madeS === undefined) return <p class="hint">{words.noFan}</p>;
  const madeMs = madeS * 1000;
  const when = (hours: number | null | undefined): string =>
    hours === null || hours === undefined ? words.beyond : clock.when(madeMs + hours * MS_PER_HOUR, nowMs);
  const isThere = p90H[fan] === 0;
  const said = isThere
    ? words.fanThere(clock.when(madeMs, nowMs))
    : words.fanWords(clock.when(madeMs, nowMs), when(p10H[fan]), when(p50H[fan]), when(p90H[fan]));
  return (
    <label class="field fan-picker">
      <span>{words.fan}</span>
      <input
        type="range"
        min="0"
        max={atS.length - 1}
        value={fan}
        aria-valuetext={said}
        onInput={(event) => onFan(event.currentTarget.valueAsNumber)}
      />
      <output aria-live="off">{said}</output>
    </label>
  );
}
