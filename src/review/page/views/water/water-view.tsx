import { useMemo, useState } from 'preact/hooks';
import type { PagePresent } from '../../../../../shared/page/page-present.js';
import type { WaterAnswer } from '../../../../../shared/page/page-review.js';
import { DataTable } from '../../draw/data-table.js';
import { SaveRow } from '../../draw/save-row.js';
import { clockOf, useHouse } from '../../house/house.js';
import { useAnswer } from '../../house/use-answer.js';
import { sizeWords, waterWords } from '../../texts/amounts/amounts.js';
import { AnswerFrame } from '../parts/answer-frame.js';
import { SpanBar } from '../parts/span-bar.js';
import { type ChosenSpan, spanQuery } from '../parts/span-query.js';
import { DropField } from './drop-field.js';
import { WaterColumns } from './water-columns.js';
import { columnsPicture, dropsPicture } from './water-pictures.js';
import { waterSums } from './water-sums.js';

const DAY_MS = 86_400_000;

/** Water carried: each day by block size, and tray by tray. */
export function WaterView({ present }: { readonly present: PagePresent }) {
  const { texts } = useHouse();
  const [nowMs] = useState(() => Date.parse(present.at));
  const [span, setSpan] = useState<ChosenSpan>({ days: 14 });
  const asked = useAnswer<WaterAnswer>(`/api/water?${spanQuery(span, nowMs)}`);
  return (
    <div class="review">
      <h1>{texts.review.water.title}</h1>
      <SpanBar span={span} nowMs={nowMs} onSpan={setSpan} />
      <AnswerFrame asked={asked}>
        {(answer) => <WaterFigures answer={answer} present={present} />}
      </AnswerFrame>
    </div>
  );
}

function WaterFigures({ answer, present }: { readonly answer: WaterAnswer; readonly present: PagePresent }) {
  const { texts } = useHouse();
  const words = texts.review.water;
  const sums = useMemo(() => waterSums(answer), [answer]);
  const clock = clockOf(present, texts);
  const { units } = present;
  const dayCount = Math.max(1, Math.round((Date.parse(answer.to) - Date.parse(answer.from)) / DAY_MS));
  if (sums.wateringCount === 0) return <p class="empty">{words.none}</p>;
  const shortWords = (day: string): string => clock.shortDay(Date.parse(`${day}T12:00:00Z`));
  const dayWords = (day: string): string => clock.day(Date.parse(`${day}T12:00:00Z`));
  const sizeNames = sums.sizes.map((size) =>
    size === undefined ? texts.review.unknown : sizeWords(size, units),
  );
  const columnName = sums.isWeekly ? words.week : words.day;
  const amount = (ml: number | undefined): string => (ml === undefined ? '' : waterWords(ml, units));
  const byColumn = {
    head: [columnName, words.all, ...sizeNames],
    rows: () =>
      sums.columns.map((column) => [
        dayWords(column.fromDay),
        amount(column.ml),
        ...sums.sizes.map((size) => amount(column.mlBySize.get(size))),
      ]),
  };
  const byTray = {
    head: [words.tray, words.all, ...sums.columns.map((column) => dayWords(column.fromDay))],
    rows: () =>
      answer.trays.map((tray) => [
        tray.id,
        amount(sums.columns.reduce((sum, column) => sum + (column.mlByTray.get(tray.id) ?? 0), 0)),
        ...sums.columns.map((column) => amount(column.mlByTray.get(tray.id))),
      ]),
  };
  return (
    <>
      <p class="lead">
        <b class="water-total">{words.total(waterWords(sums.totalMl, units), dayCount)}</b>{' '}
        {words.perDay(waterWords(sums.totalMl / dayCount, units))}
      </p>
      <figure>
        <WaterColumns
          sums={sums}
          names={sizeNames}
          units={units}
          dayWords={shortWords}
          label={words.plotLabel}
        />
        <SaveRow
          name="water"
          of={words.title}
          picture={columnsPicture(sums, sizeNames, units, {
            label: words.plotLabel,
            column: columnName,
            day: shortWords,
          })}
          {...byColumn}
        />
        <DataTable summary={texts.review.asTable} caption={words.plotLabel} {...byColumn} />
      </figure>
      <h2>{words.perTray}</h2>
      <figure>
        <DropField answer={answer} sums={sums} units={units} dayWords={dayWords} label={words.perTrayLabel} />
        <SaveRow
          name="water-by-tray"
          of={words.perTray}
          picture={dropsPicture(answer, sums, {
            label: words.perTrayLabel,
            column: columnName,
            day: shortWords,
          })}
          {...byTray}
        />
        <DataTable summary={texts.review.asTable} caption={words.perTrayLabel} {...byTray} />
      </figure>
      {sums.workedOutCount > 0 && (
        <p class="hint">{words.workedOut(sums.workedOutCount, sums.wateringCount)}</p>
      )}
      {sums.unknownCount > 0 && <p class="hint">{words.unknown(sums.unknownCount)}</p>}
    </>
  );
}
