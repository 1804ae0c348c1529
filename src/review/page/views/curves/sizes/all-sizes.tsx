import { useState } from 'preact/hooks';
import type { PagePresent } from '../../../../../../shared/page/page-present.js';
import type { CurvesAnswer } from '../../../../../../shared/page/page-review.js';
import { DataTable } from '../../../draw/data-table.js';
import { SaveRow } from '../../../draw/save-row.js';
import { useHouse } from '../../../house/house.js';
import { useAnswer } from '../../../house/use-answer.js';
import { sizeWords } from '../../../texts/amounts/amounts.js';
import { AnswerFrame } from '../../parts/answer-frame.js';
import { SpanBar } from '../../parts/span-bar.js';
import { type ChosenSpan, spanQuery } from '../../parts/span-query.js';
import { bandRows } from './band-rows.js';
import { CameTrueTable } from './came-true-table.js';
import { CurveChoices, type CurveQuestion } from './curve-choices.js';
import { sizePicture } from './size-picture.js';
import { SizePlot } from './size-plot.js';
import { SizeTable } from './size-table.js';
import { StillDrying } from './still-drying.js';

/** Sizes side by side: bands, the table of hours to refill, and how forecasts did. */
export function AllSizes({ present }: { readonly present: PagePresent }) {
  const { texts } = useHouse();
  const [nowMs] = useState(() => Date.parse(present.at));
  const [span, setSpan] = useState<ChosenSpan>({ days: 60 });
  const [question, setQuestion] = useState<CurveQuestion>({});
  const query = `${spanQuery(span, nowMs)}&${new URLSearchParams(question)}`;
  const asked = useAnswer<CurvesAnswer>(`/api/curves?${query}`);
  const words = texts.review.curves;
  return (
    <>
      <p>
        <a class="press press-small" href="#season">
          {texts.season.open}
        </a>
      </p>
      <SpanBar
        span={span}
        nowMs={nowMs}
        onSpan={setSpan}
        onCrop={(crop) => setQuestion({ ...question, crop })}
      />
      {asked.answer !== undefined && (
        <CurveChoices
          choices={asked.answer.choices}
          question={question}
          onQuestion={setQuestion}
          present={present}
        />
      )}
      <AnswerFrame asked={asked}>
        {(answer) => {
          const count = answer.sizes.reduce((sum, size) => sum + size.dryDownCount, 0);
          if (count === 0) return <p class="empty">{words.none}</p>;
          const names = answer.sizes.map((size) => sizeWords(size.blockSideMm, present.units));
          const head = [words.hoursAxis, ...names.flatMap(words.bandColumns)];
          const rows = (): string[][] => bandRows(answer.sizes);
          return (
            <>
              <p class="lead">{words.lead(count, answer.sizes.length)}</p>
              <figure>
                <SizePlot sizes={answer.sizes} names={names} />
                <StillDrying sizes={answer.sizes} names={names} />
                <p class="hint">{words.lineEnds}</p>
                <SaveRow
                  name="drying-curves"
                  of={words.title}
                  picture={sizePicture(answer.sizes, names, texts)}
                  head={head}
                  rows={rows}
                />
                <DataTable
                  summary={texts.review.asTable}
                  caption={words.plotLabel(names.join(', '))}
                  head={head}
                  rows={rows}
                />
              </figure>
              {answer.sizes.map((size, place) =>
                size.band.length > 0 ? null : (
                  <p key={size.blockSideMm} class="hint">
                    {`${names[place]}: ${words.tooFew(size.dryDownCount)}`}
                  </p>
                ),
              )}
              <SizeTable sizes={answer.sizes} names={names} units={present.units} />
              <CameTrueTable from={answer.from} to={answer.to} question={question} />
            </>
          );
        }}
      </AnswerFrame>
    </>
  );
}
