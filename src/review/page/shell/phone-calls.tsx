import { useEffect, useState } from 'preact/hooks';
import type { PagePresent } from '../../../../shared/page/page-present.js';
import { clockOf, useHouse } from '../house/house.js';
import { beginCalls, type Calls, endCalls, lookAtCalls, tryCalls } from './push-calls.js';

/** Whether this phone is called by push, the presses that make it so, and what to do where it cannot be. */
export function PhoneCalls({ present }: { readonly present: PagePresent }) {
  const { texts } = useHouse();
  const words = texts.calls;
  const [calls, setCalls] = useState<Calls | undefined>(undefined);
  const [isBusy, setBusy] = useState(false);
  const [isTried, setTried] = useState(false);
  useEffect(() => {
    if (!present.canTell) setCalls({ whyNot: 'no-calls' });
    else void lookAtCalls().then(setCalls);
  }, [present.canTell]);
  const does =
    (what: () => Promise<Calls>, isTrial = false) =>
    async (): Promise<void> => {
      setBusy(true);
      setTried(false);
      const next = await what();
      setCalls(next);
      setTried(isTrial && 'answer' in next && next.answer.problem === undefined);
      setBusy(false);
    };
  const answer = calls !== undefined && 'answer' in calls ? calls.answer : undefined;
  const phone = answer?.phone;
  const whyNot = calls !== undefined && 'whyNot' in calls ? calls.whyNot : undefined;
  const canPress = answer !== undefined || whyNot === 'denied' || whyNot === 'no-service';
  const clock = clockOf(present, texts);
  return (
    <fieldset class="presses" disabled={isBusy}>
      <legend>{words.title}</legend>
      {phone !== undefined ? (
        <p>{words.since(clock.full(Date.parse(phone.sinceAt)))}</p>
      ) : (
        canPress && <p>{words.lead}</p>
      )}
      {phone === undefined && canPress && (
        <button type="button" class="press" onClick={does(beginCalls)}>
          {words.begin}
        </button>
      )}
      {phone !== undefined && (
        <>
          <button type="button" class="press" onClick={does(tryCalls, true)}>
            {words.try}
          </button>
          <button type="button" class="press" onClick={does(endCalls)}>
            {words.end}
          </button>
        </>
      )}
      <div role="status">
        {whyNot !== undefined && <p>{words.not[whyNot]}</p>}
        {isTried && <p>{words.tried}</p>}
        {answer?.problem !== undefined && <p class="problem">{words.problem(answer.problem)}</p>}
        {answer?.problem === undefined && phone?.trouble !== undefined && (
          <p class="problem">{words.problem(phone.trouble)}</p>
        )}
      </div>
      {answer !== undefined && answer.phones.length > 0 && (
        <p>{words.all(answer.phones.map(({ name }) => name || words.noName).join(', '))}</p>
      )}
    </fieldset>
  );
}
