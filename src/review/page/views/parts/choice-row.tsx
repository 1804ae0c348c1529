import { useHouse } from '../../house/house.js';

interface ChoiceRowProps {
  readonly name: string;
  readonly options: readonly { readonly value: string; readonly words: string }[];
  readonly chosen: string | undefined;
  /** What stands there while nothing is chosen; "all" when absent. */
  readonly none?: string;
  readonly onChoose: (value: string | undefined) => void;
}

/** One thing to filter by. */
export function ChoiceRow({ name, options, chosen, none, onChoose }: ChoiceRowProps) {
  const { texts } = useHouse();
  if (options.length < 2 && chosen === undefined) return null;
  return (
    <label class="field choice-row">
      <span>{name}</span>
      <select value={chosen ?? ''} onChange={(event) => onChoose(event.currentTarget.value || undefined)}>
        <option value="">{none ?? texts.review.all}</option>
        {options.map(({ value, words }) => (
          <option key={value} value={value}>
            {words}
          </option>
        ))}
      </select>
    </label>
  );
}
