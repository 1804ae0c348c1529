import { useMemo, useState } from 'preact/hooks';
import { MS_PER_HOUR } from '../../../../../shared/base/time-units.js';
import type { PagePresent } from '../../../../../shared/page/page-present.js';
import type { WhyAnswer } from '../../../../../shared/page/page-why.js';
import { DataTable } from '../../draw/data-table.js';
import { Icon } from '../../draw/icons.js';
import { Picture, type PictureSpec } from '../../draw/picture.js';
import { SaveRow } from '../../draw/save-row.js';
import { clockOf, useHouse } from '../../house/house.js';
import { useAnswer } from '../../house/use-answer.js';
import { hoursSpoken } from '../../texts/hours-left.js';
import { AnswerFrame } from '../parts/answer-frame.js';
import { WhyLists } from './why-lists.js';
import { courseRows, dryDownPicture, fanPicture, nameOf } from './why-pictures.js';

interface WhyViewProps {
  readonly present: PagePresent;
  readonly detail: string | undefined;
  readonly at: string | undefined;
}

const PICTURE_PX = 320;

/** Why a tray stands where it does, or stood at an instant. */
export function WhyView({ present, detail, at }: WhyViewProps) {
  const [first] = present.trays;
  const tray = detail ?? first?.id ?? '';
  return <WhyTray key={`${tray} ${at}`} present={present} tray={tray} at={at} />;
}

function WhyTray({ present, tray, at }: { present: PagePresent; tray: string; at: string | undefined }) {
  const { texts } = useHouse();
  const [query] = useState(() => (at === undefined ? '' : `?at=${encodeURIComponent(at)}`));
  const asked = useAnswer<WhyAnswer>(`/api/tray/${encodeURIComponent(tray)}/why${query}`);
  const words = texts.why;
  return (
    <div class="review why">
      <h1>{words.title(tray)}</h1>
      {asked.answer === undefined && asked.waiting && <p class="lead">{words.weighing}</p>}
      <AnswerFrame asked={asked}>
        {(answer) => <WhyBody answer={answer} present={present} at={at} />}
      </AnswerFrame>
      <a class="press" href={`#curves/${encodeURIComponent(tray)}`}>
        <Icon name="curves" />
        {texts.tray.seeCurve}
      </a>
    </div>
  );
}

function WhyBody({
  answer,
  present,
  at,
}: {
  answer: WhyAnswer;
  present: PagePresent;
  at: string | undefined;
}) {
  const { texts } = useHouse();
  const words = texts.why;
  const clock = clockOf(present, texts);
  const nowMs = Date.parse(present.at);
  const { why, whyNot, fan, before, now, tray } = answer;
  const [fanSpec, drySpec] = useMemo(
    () => [fanPicture(answer, clock, texts), dryDownPicture(answer, clock, texts)],
    [answer, clock, texts],
  );
  const when = (hours: number | null): string =>
    hours === null || fan === undefined
      ? words.fiveDays
      : clock.when(Date.parse(fan.madeAt) + hours * MS_PER_HOUR, nowMs);
  return (
    <>
      {at !== undefined && <p class="lead">{words.asOf(clock.when(Date.parse(answer.at), nowMs))}</p>}
      {why !== undefined && (
        <p class="why-hours">
          {why.hours.p50 === 0 ? (
            <b>{words.driestNow}</b>
          ) : (
            <>
              {words.driest} <b>{hoursSpoken(why.hours, texts)}</b>
            </>
          )}
        </p>
      )}
      {whyNot !== undefined && <p class="lead">{words.whyNot[whyNot]}</p>}
      {why !== undefined && <WhyLists why={why} present={present} />}
      {fanSpec !== undefined && fan !== undefined && (
        <WhyFigure
          title={words.fanTitle}
          lead={words.fanLead(clock.when(Date.parse(fan.madeAt), nowMs), when(fan.p10H), when(fan.p90H))}
          name={`${tray}-fan`}
          spec={fanSpec}
          head={[words.hours, words.water]}
          rows={() => courseRows([now])}
        />
      )}
      {drySpec === undefined ? (
        <p class="hint">{words.noBefore}</p>
      ) : (
        <WhyFigure
          title={words.beforeTitle}
          name={`${tray}-dry-downs`}
          spec={drySpec}
          head={[words.hours, words.thisOne, ...before.map((course) => nameOf(course, clock))]}
          rows={() => courseRows([now, ...before])}
        />
      )}
    </>
  );
}

interface WhyFigureProps {
  readonly title: string;
  readonly lead?: string;
  readonly name: string;
  readonly spec: PictureSpec;
  readonly head: readonly string[];
  readonly rows: () => readonly (readonly string[])[];
}

function WhyFigure({ title, lead, name, spec, head, rows }: WhyFigureProps) {
  const { texts } = useHouse();
  return (
    <section>
      <h2>{title}</h2>
      {lead !== undefined && <p class="lead">{lead}</p>}
      <figure>
        <Picture spec={spec} heightPx={PICTURE_PX} />
        <SaveRow name={name} of={title} picture={spec} head={head} rows={rows} />
        <DataTable summary={texts.review.asTable} caption={spec.label} head={head} rows={rows} />
      </figure>
    </section>
  );
}
