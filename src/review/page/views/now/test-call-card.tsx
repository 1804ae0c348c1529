import type { PagePresent } from '../../../../../shared/page/page-present.js';
import { Icon } from '../../draw/icons.js';
import { clockOf, useHouse } from '../../house/house.js';
import { TellPress } from '../parts/tell-press.js';

interface TestCallCardProps {
  readonly present: PagePresent;
  readonly testCall: PagePresent['testCall'];
  readonly nowMs: number;
}

/** A test call that waits for an answer: one press for each way by which it may have come. */
export function TestCallCard({ present, testCall, nowMs }: TestCallCardProps) {
  const { texts } = useHouse();
  if (testCall === undefined) return null;
  const sentAt = clockOf(present, texts).when(Date.parse(testCall.at), nowMs);
  return (
    <section class="test-call" aria-labelledby="test-call-title">
      <h2 id="test-call-title">{texts.testCall.title}</h2>
      <div class="call">
        <p class="call-words">{texts.testCall.sent(sentAt)}</p>
        {testCall.ways.map((way) => (
          <TellPress
            key={way}
            wish={{ do: 'test-seen', way }}
            label={texts.testCall.came(way)}
            class="press press-wide"
            canTell={present.canTell}
          >
            <Icon name="check" />
            {texts.testCall.came(way)}
          </TellPress>
        ))}
      </div>
    </section>
  );
}
