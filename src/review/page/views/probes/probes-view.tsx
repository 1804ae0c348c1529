import { useState } from 'preact/hooks';
import type { PagePresent } from '../../../../../shared/page/page-present.js';
import type { ProbesAnswer } from '../../../../../shared/page/page-review.js';
import { useHouse } from '../../house/house.js';
import { useAnswer } from '../../house/use-answer.js';
import { AnswerFrame } from '../parts/answer-frame.js';
import { SpanBar } from '../parts/span-bar.js';
import { type ChosenSpan, spanQuery } from '../parts/span-query.js';
import { ProbeCard } from './probe-card.js';

/** Health, drift, calibration and gaps of every probe; those that need a hand first. */
export function ProbesView({ present }: { readonly present: PagePresent }) {
  const { texts } = useHouse();
  const [nowMs] = useState(() => Date.parse(present.at));
  const [span, setSpan] = useState<ChosenSpan>({ days: 14 });
  const asked = useAnswer<ProbesAnswer>(`/api/probes?${spanQuery(span, nowMs)}`);
  const words = texts.review.probes;
  const unwell = present.probes.filter((probe) => !probe.ok).length;
  if (present.probes.length === 0)
    return (
      <div class="review">
        <h1>{words.title}</h1>
        <p class="empty">{words.none}</p>
      </div>
    );
  return (
    <div class="review">
      <h1>{words.title}</h1>
      <p class="lead">{unwell === 0 ? words.allWell : words.unwell(unwell)}</p>
      <SpanBar span={span} nowMs={nowMs} onSpan={setSpan} />
      <AnswerFrame asked={asked}>
        {(answer) => {
          const live = new Map(present.probes.map((probe) => [probe.id, probe]));
          const histories = answer.probes.map((history) => ({
            ...history,
            probe: live.get(history.probe.id) ?? history.probe,
          }));
          return (
            <ul class="probe-cards">
              {histories
                .sort((a, b) => Number(a.probe.ok) - Number(b.probe.ok))
                .map((history) => (
                  <ProbeCard
                    key={history.probe.id}
                    history={history}
                    present={present}
                    fromMs={Date.parse(answer.from)}
                    toMs={Date.parse(answer.to)}
                  />
                ))}
            </ul>
          );
        }}
      </AnswerFrame>
    </div>
  );
}
