import type { PagePresent } from '../../../../../shared/page-present.js';
import { Icon } from '../../draw/icons.js';
import { clockOf, useHouse } from '../../house/house.js';

/** A test call that waits for an answer: one press for each way by which it may have come. */
export function TestCallCard({ present, nowMs }: { readonly present: PagePresent; readonly nowMs: number }) {
  const { texts, teller } = useHouse();
  const { testCall } = present;
  if (testCall === undefined) return null;
  const sentAt = clockOf(present, texts).when(Date.parse(testCall.at), nowMs);
  return (
    <section class="test-call" aria-labelledby="test-call-title">
      <h2 id="test-call-title">{texts.testCall.title}</h2>
      <div class="call">
        <p class="call-words">{texts.testCall.sent(sentAt)}</p>
        {testCall.ways.map((way) => (
          <button
            key={way}
            type="button"
            class="press press-wide"
            disabled={!present.canTell}
            onClick={() => teller.tell({ do: 'test-seen', way }, texts.testCall.came(way))}
          >
            <Icon name="check" />
            {texts.testCall.came(way)}
          </button>
        ))}
      </div>
    </section>
  );
}
