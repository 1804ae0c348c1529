import type { PagePresent } from '../../../../../../shared/page/page-present.js';
import type { CurvesAnswer } from '../../../../../../shared/page/page-review.js';
import { useHouse } from '../../../house/house.js';
import { ChoiceRow } from '../../parts/choice-row.js';

/** What is filtered by; the names are those of the request. */
export type CurveQuestion = Partial<Record<'bench' | 'crop' | 'months' | 'vpd' | 'stage' | 'tray', string>>;

interface CurveChoicesProps {
  readonly choices: CurvesAnswer['choices'];
  readonly question: CurveQuestion;
  readonly onQuestion: (question: CurveQuestion) => void;
  readonly present: PagePresent;
}

/** Filters by bench, crop, month, air, stage and tray; only what the span offers. */
export function CurveChoices({ choices, question, onQuestion }: CurveChoicesProps) {
  const { texts } = useHouse();
  const words = texts.review.curves;
  const month = new Intl.DateTimeFormat(texts.locale, { month: 'long', timeZone: 'UTC' });
  const same = (values: readonly string[]) => values.map((value) => ({ value, words: value }));
  const rows = [
    { key: 'bench', name: words.bench, options: same(choices.benches) },
    { key: 'crop', name: words.crop, options: same(choices.crops) },
    {
      key: 'months',
      name: words.month,
      options: choices.months.map((number) => ({
        value: String(number),
        words: month.format(Date.UTC(2026, number - 1, 15)),
      })),
    },
    {
      key: 'vpd',
      name: words.air,
      options: choices.vpdClasses.map((value) => ({
        value,
        words: words.airs[value as keyof typeof words.airs] ?? value,
      })),
    },
    {
      key: 'stage',
      name: words.stage,
      options: choices.stages.map((value) => ({
        value,
        words: words.stages[value as keyof typeof words.stages] ?? value,
      })),
    },
    { key: 'tray', name: words.tray, options: same(choices.trays) },
  ] as const;
  return (
    <details class="choices-of" open={Object.keys(question).length > 0}>
      <summary>{words.only}</summary>
      <div class="curve-choices">
        {rows.map(({ key, name, options }) => (
          <ChoiceRow
            key={key}
            name={name}
            options={options}
            chosen={question[key]}
            onChoose={(value) => {
              const { [key]: _before, ...others } = question;
              onQuestion(value === undefined ? others : { ...others, [key]: value });
            }}
          />
        ))}
      </div>
    </details>
  );
}
