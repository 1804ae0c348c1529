import { useMemo, useState } from 'preact/hooks';
import { MS_PER_MIN } from '../../../../../../shared/base/time-units.js';
import type { PagePresent } from '../../../../../../shared/page/page-present.js';
import type { TrayCurveAnswer } from '../../../../../../shared/page/page-review.js';
import { DataTable } from '../../../draw/data-table.js';
import { SaveRow } from '../../../draw/save-row.js';
import { clockOf, useHouse } from '../../../house/house.js';
import { useAnswer } from '../../../house/use-answer.js';
import { NotesStrip } from '../../notes/notes-strip.js';
import { AnswerFrame } from '../../parts/answer-frame.js';
import { SpanBar } from '../../parts/span-bar.js';
import { type ChosenSpan, spanQuery } from '../../parts/span-query.js';
import { FanPicker } from './fan-picker.js';
import { TrayKey } from './tray-key.js';
import { trayPicture } from './tray-picture.js';
import { TrayPlot } from './tray-plot.js';
import { rowStep, trayRows } from './tray-rows.js';

interface TrayCurveProps {
  readonly present: PagePresent;
  readonly trayId: string;
}

const BUCKETS = 1000;
/** The page's picture is up to a sign of life behind, and what was just written belongs to now. */
const BEHIND_MS = MS_PER_MIN;

/** One tray over time: readings, the model, waterings, calls, and the fan of any kept forecast. */
export function TrayCurve({ present, trayId }: TrayCurveProps) {
  const [nowMs] = useState(() => Date.parse(present.at));
  const [span, setSpan] = useState<ChosenSpan>({ days: 3 });
  const asked = useAnswer<TrayCurveAnswer>(
    `/api/tray/${encodeURIComponent(trayId)}/curve?${spanQuery(span, nowMs)}&buckets=${BUCKETS}`,
  );
  return (
    <>
      <SpanBar span={span} nowMs={nowMs} onSpan={setSpan} />
      <AnswerFrame asked={asked}>
        {(answer) => <TrayFigure key={answer.from} answer={answer} present={present} />}
      </AnswerFrame>
      <NotesStrip present={present} span={spanQuery(span, nowMs + BEHIND_MS)} tray={trayId} />
    </>
  );
}

function TrayFigure({
  answer,
  present,
}: {
  readonly answer: TrayCurveAnswer;
  readonly present: PagePresent;
}) {
  const { texts } = useHouse();
  const words = texts.review.tray;
  const clock = clockOf(present, texts);
  const last = answer.forecasts.atS.length - 1;
  const [fan, setFan] = useState(last);
  const calls = answer.alarms.filter((alarm) => alarm.state === 'unacknowledged').length;
  const rows = (): string[][] => trayRows(answer, clock, texts);
  const picture = useMemo(() => trayPicture(answer, clock, texts), [answer, clock, texts]);
  return (
    <figure>
      <TrayPlot
        answer={answer}
        fan={fan}
        timeZone={present.timeZone}
        label={words.plotLabel(answer.tray, answer.waterings.length, calls)}
        texts={texts}
      />
      <TrayKey hasProbe={answer.probe !== undefined} />
      {answer.probe === undefined && <p class="hint">{words.noProbe}</p>}
      <FanPicker answer={answer} fan={fan} onFan={setFan} clock={clock} nowMs={Date.parse(present.at)} />
      <SaveRow
        name={`${answer.tray}-curve`}
        of={words.title(answer.tray)}
        picture={picture}
        head={Object.values(words.columns)}
        rows={rows}
      />
      <DataTable
        summary={texts.review.asTable}
        caption={`${words.title(answer.tray)}. ${words.thinned(rowStep(answer, texts))}`}
        head={Object.values(words.columns)}
        rows={rows}
      />
    </figure>
  );
}
