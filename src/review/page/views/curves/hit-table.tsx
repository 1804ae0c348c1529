import type { CurvesAnswer } from '../../../../../shared/page-review.js';
import { Table } from '../../draw/data-table.js';
import { useHouse } from '../../house/house.js';
import { percentWords } from '../../words/amounts.js';

/** How often forecasts held, by how far ahead they looked. */
export function HitTable({ hitRates }: { readonly hitRates: CurvesAnswer['hitRates'] }) {
  const { texts } = useHouse();
  const words = texts.review.curves;
  const unknown = texts.review.unknown;
  const rows = hitRates.filter((rate) => rate.outcomeCount > 0);
  if (rows.length === 0) return null;
  return (
    <section aria-labelledby="hits-title">
      <h2 id="hits-title">{words.hitsTitle}</h2>
      <p class="lead">{words.hitsLead}</p>
      <Table
        caption={words.hitsTitle}
        head={Object.values(words.hits)}
        rows={rows.map((rate) => [
          words.leads(rate.fromLeadH, rate.belowLeadH),
          String(rate.outcomeCount),
          rate.insideShare === null ? unknown : percentWords(rate.insideShare),
          rate.meanAbsoluteErrorM3PerM3 === null ? unknown : (rate.meanAbsoluteErrorM3PerM3 * 100).toFixed(1),
          rate.meanErrorM3PerM3 === null ? unknown : (rate.meanErrorM3PerM3 * 100).toFixed(1),
        ])}
      />
    </section>
  );
}
