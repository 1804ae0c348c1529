import type { CameTrueAnswer } from '../../../../../../shared/page/page-review.js';
import { Table } from '../../../draw/data-table.js';
import { useHouse } from '../../../house/house.js';
import { useAnswer } from '../../../house/use-answer.js';
import { percentWords } from '../../../texts/amounts/amounts.js';
import type { CurveQuestion } from './curve-choices.js';

interface CameTrueTableProps {
  /** The span of the curves as they are drawn: asked for after them, so that the house draws those first. */
  readonly from: string;
  readonly to: string;
  readonly question: CurveQuestion;
}

/** How often the hours came true within the range, by how far ahead they lay, with the counts behind each share. */
export function CameTrueTable({ from, to, question }: CameTrueTableProps) {
  const { texts } = useHouse();
  const query = new URLSearchParams({ from, to, ...question });
  const { answer } = useAnswer<CameTrueAnswer>(`/api/came-true?${query}`);
  if (answer === undefined || answer.all.forecastCount === 0) return null;
  const words = texts.review.cameTrue;
  const share = (value: number | null): string => (value === null ? words.tooFew : percentWords(value));
  const row = (label: string, rate: CameTrueAnswer['all']): string[] => [
    label,
    share(rate.insideShare),
    share(rate.soonerShare),
    share(rate.laterShare),
    words.countOf(rate.forecastCount, rate.dryDownCount),
    words.countOf(rate.decidedCount, rate.decidedDryDownCount),
  ];
  return (
    <div>
      <h2>{words.title}</h2>
      <p class="lead">{words.lead}</p>
      <Table
        caption={words.title}
        head={Object.values(words.columns)}
        rows={[
          ...answer.bands
            .filter(({ forecastCount }) => forecastCount > 0)
            .map((band) => row(words.band(band.fromH, band.belowH), band)),
          row(words.all, answer.all),
        ]}
      />
      <p class="hint">{words.how}</p>
    </div>
  );
}
