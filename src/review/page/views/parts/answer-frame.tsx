import type { ComponentChildren } from 'preact';
import { useHouse } from '../../house/house.js';
import type { Asked } from '../../house/use-answer.js';

interface AnswerFrameProps<T> {
  readonly asked: Asked<T>;
  readonly children: (answer: T) => ComponentChildren;
}

/** What was answered, or why there is nothing to see. */
export function AnswerFrame<T>({ asked, children }: AnswerFrameProps<T>) {
  const { texts } = useHouse();
  const { answer, waiting, problem } = asked;
  return (
    <div class={waiting ? 'answer answer-waiting' : 'answer'} aria-busy={waiting}>
      {problem !== undefined && (
        <div class="answer-problem" role="alert">
          <p class="problem">{problem}</p>
          <button type="button" class="press" onClick={asked.again}>
            {texts.review.lookAgain}
          </button>
        </div>
      )}
      {answer === undefined ? waiting && <p class="empty">{texts.review.fetching}</p> : children(answer)}
    </div>
  );
}
