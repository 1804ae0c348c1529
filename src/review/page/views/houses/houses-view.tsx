import { useEffect, useRef, useState } from 'preact/hooks';
import { asksForHelp } from '../../../../../shared/base/asks-for-help.js';
import type { HousesAnswer, PageHouse } from '../../../../../shared/page/page-houses.js';
import type { PagePresent } from '../../../../../shared/page/page-present.js';
import { clockOf, useHouse } from '../../house/house.js';
import { useAnswer } from '../../house/use-answer.js';
import { agoWords } from '../../texts/farm-clock.js';
import { AnswerFrame } from '../parts/answer-frame.js';
import { HouseCard } from './house-card.js';

/** Houses change by the minute; asking costs a kB (judgement). */
const ASK_EVERY_MS = 5_000;

/** The house's clock, running on from its last answer. */
function useAnswerNowMs(answer: HousesAnswer | undefined): number {
  const received = useRef({ answer, atMs: Date.now() });
  if (received.current.answer !== answer) received.current = { answer, atMs: Date.now() };
  return answer === undefined ? Date.now() : Date.parse(answer.at) + Date.now() - received.current.atMs;
}

const lastHeardMs = (houses: readonly PageHouse[]): number =>
  Math.max(0, ...houses.map(({ heardAt }) => (heardAt === undefined ? 0 : Date.parse(heardAt))));

/** All houses of a farm on one page: how each stands, what is next, what calls, and how old its last word is. */
export function HousesView({ present }: { readonly present: PagePresent }) {
  const { texts } = useHouse();
  const words = texts.houses;
  const asked = useAnswer<HousesAnswer>('/api/houses');
  const again = useRef(asked.again);
  again.current = asked.again;
  const [, tick] = useState(0);
  useEffect(() => {
    const timer = setInterval(() => {
      tick((count) => count + 1);
      again.current();
    }, ASK_EVERY_MS);
    return () => clearInterval(timer);
  }, []);
  const nowMs = useAnswerNowMs(asked.answer);
  return (
    <div class="review">
      <h1>{words.title}</h1>
      <AnswerFrame asked={{ ...asked, waiting: asked.answer === undefined && asked.waiting }}>
        {({ houses, brokerAway }) => (
          <>
            <p class="lead" role="status">
              {brokerAway === undefined
                ? words.sum(
                    houses.filter(({ calls }) => calls.some(asksForHelp)).length,
                    houses.filter(({ state }) => state !== 'watching').length,
                  )
                : words.brokerAway(words.brokerWhy[brokerAway], sinceWords(houses))}
            </p>
            <ul class="houses">
              {houses.map((house) => (
                <HouseCard key={house.farm} house={house} present={present} nowMs={nowMs} />
              ))}
            </ul>
          </>
        )}
      </AnswerFrame>
    </div>
  );

  function sinceWords(houses: readonly PageHouse[]): string {
    const heardMs = lastHeardMs(houses);
    return heardMs === 0
      ? words.notHeard
      : `${clockOf(present, texts).when(heardMs, nowMs)} (${agoWords(nowMs - heardMs, texts)})`;
  }
}
