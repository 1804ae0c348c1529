import { useMemo, useState } from 'preact/hooks';
import type { PagePresent } from '../../../../../shared/page/page-present.js';
import type { CyclesAnswer, SeasonsAnswer } from '../../../../../shared/page/page-season.js';
import { useHouse } from '../../house/house.js';
import { useAnswer } from '../../house/use-answer.js';
import { NotesStrip } from '../notes/notes-strip.js';
import { AnswerFrame } from '../parts/answer-frame.js';
import {
  besideOf,
  cycleSpans,
  keyOf,
  type NamedSpan,
  queryOf,
  SUM_KINDS,
  type SumKind,
  seasonSpans,
  weekSpans,
} from './named-spans.js';
import { SeasonPictures } from './season-pictures.js';
import { SeasonTables } from './season-tables.js';
import { useSeasons } from './use-seasons.js';

/** Seasons beside the chosen one at first: more make a table that nobody reads (judgement). */
const BESIDE_COUNT = 2;

/** What a season, a week or a crop came to, beside its like; made to be printed. */
export function SeasonView({ present }: { readonly present: PagePresent }) {
  const { texts } = useHouse();
  const words = texts.season;
  const [kind, setKind] = useState<SumKind>('season');
  const [opened] = useState(present);
  const seasons = useAnswer<SeasonsAnswer>('/api/seasons');
  const cycles = useAnswer<CyclesAnswer>('/api/cycles');
  const weeks = useMemo(() => weekSpans(opened, texts), [opened, texts]);
  return (
    <div class="review season">
      <h1>{words.title}</h1>
      <fieldset class="choices">
        <legend class="spoken">{words.kindsTitle}</legend>
        {SUM_KINDS.map((one) => (
          <button
            key={one}
            type="button"
            class="press press-small"
            aria-pressed={one === kind}
            onClick={() => setKind(one)}
          >
            {words.kinds[one]}
          </button>
        ))}
      </fieldset>
      {kind === 'cycle' ? (
        <AnswerFrame asked={cycles}>
          {(answer) => <Chosen key={kind} all={cycleSpans(answer, opened, texts)} present={present} />}
        </AnswerFrame>
      ) : (
        <AnswerFrame asked={seasons}>
          {(answer) => (
            <Chosen
              key={kind}
              all={answer.seasons.length === 0 || kind === 'season' ? seasonSpans(answer) : weeks}
              present={present}
            />
          )}
        </AnswerFrame>
      )}
    </div>
  );
}

interface ChosenProps {
  /** Newest first. */
  readonly all: readonly NamedSpan[];
  readonly present: PagePresent;
}

function Chosen({ all, present }: ChosenProps) {
  const { texts } = useHouse();
  const words = texts.season;
  const firstBeside = (one: NamedSpan | undefined): readonly string[] =>
    one === undefined
      ? []
      : besideOf(all, one)
          .filter(({ crop }) => crop === one.crop)
          .slice(0, BESIDE_COUNT)
          .map(keyOf);
  const [chosenKey, setChosenKey] = useState(all[0] && keyOf(all[0]));
  const [beside, setBeside] = useState<readonly string[]>(() => firstBeside(all[0]));
  const place = all.findIndex((one) => keyOf(one) === chosenKey);
  const chosen = all[place];
  const others = chosen === undefined ? [] : besideOf(all, chosen);
  const wanted = chosen === undefined ? [] : [chosen, ...others.filter((one) => beside.includes(keyOf(one)))];
  const known = useSeasons(wanted);
  if (chosen === undefined) return <p class="empty">{words.none}</p>;
  const choose = (one: NamedSpan | undefined): void => {
    if (one === undefined) return;
    setChosenKey(keyOf(one));
    setBeside(firstBeside(one));
  };
  return (
    <>
      <div class="season-choice">
        <label class="field">
          <span>{words.which}</span>
          <select
            value={chosenKey}
            onChange={(event) => choose(all.find((one) => keyOf(one) === event.currentTarget.value))}
          >
            {all.map((one) => (
              <option key={keyOf(one)} value={keyOf(one)}>
                {one.name}
              </option>
            ))}
          </select>
        </label>
        {all.length > 1 && (
          <div class="season-steps">
            <button
              type="button"
              class="press press-small"
              disabled={place + 1 >= all.length}
              onClick={() => choose(all[place + 1])}
            >
              {words.before}
            </button>
            <button
              type="button"
              class="press press-small"
              disabled={place === 0}
              onClick={() => choose(all[place - 1])}
            >
              {words.after}
            </button>
          </div>
        )}
        {others.length > 0 && (
          <fieldset class="choices">
            <legend>{words.beside}</legend>
            {others.map((one) => (
              <button
                key={keyOf(one)}
                type="button"
                class="press press-small"
                aria-pressed={beside.includes(keyOf(one))}
                onClick={() =>
                  setBeside(
                    beside.includes(keyOf(one))
                      ? beside.filter((key) => key !== keyOf(one))
                      : [...beside, keyOf(one)],
                  )
                }
              >
                {one.name}
              </button>
            ))}
          </fieldset>
        )}
        <button type="button" class="press press-small" onClick={() => window.print()}>
          {words.print}
        </button>
      </div>
      {known.length < wanted.length && <p class="empty">{texts.review.fetching}</p>}
      {known.length > 0 && (
        <>
          <SeasonTables seasons={known} units={present.units} />
          <SeasonPictures seasons={known} units={present.units} />
          {known[0] !== undefined && <NotesStrip present={present} span={queryOf(known[0])} />}
        </>
      )}
    </>
  );
}
