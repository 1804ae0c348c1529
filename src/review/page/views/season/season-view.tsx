import { useState } from 'preact/hooks';
import type { PagePresent } from '../../../../../shared/page/page-present.js';
import type { SeasonsAnswer } from '../../../../../shared/page/page-season.js';
import { useHouse } from '../../house/house.js';
import { useAnswer } from '../../house/use-answer.js';
import { NotesStrip } from '../notes/notes-strip.js';
import { AnswerFrame } from '../parts/answer-frame.js';
import { SeasonPictures } from './season-pictures.js';
import { SeasonTables } from './season-tables.js';
import { useSeasons } from './use-seasons.js';

/** Seasons beside the chosen one at first: more make a table that nobody reads (judgement). */
const BESIDE_COUNT = 2;

/** What a season came to, beside others; made to be printed. */
export function SeasonView({ present }: { readonly present: PagePresent }) {
  const { texts } = useHouse();
  const asked = useAnswer<SeasonsAnswer>('/api/seasons');
  return (
    <div class="review season">
      <h1>{texts.season.title}</h1>
      <AnswerFrame asked={asked}>
        {({ seasons }) =>
          seasons.length === 0 ? (
            <p class="empty">{texts.season.none}</p>
          ) : (
            <ChosenSeasons all={seasons} present={present} />
          )
        }
      </AnswerFrame>
    </div>
  );
}

const spanOf = ({ from, to }: { from: string; to: string }): string =>
  new URLSearchParams({ from, to }).toString();

function ChosenSeasons({ all, present }: { all: SeasonsAnswer['seasons']; present: PagePresent }) {
  const { texts } = useHouse();
  const words = texts.season;
  const [chosen, setChosen] = useState(all[0]?.from);
  const [beside, setBeside] = useState<readonly string[]>(
    all.slice(1, 1 + BESIDE_COUNT).map(({ from }) => from),
  );
  const others = all.filter(({ from }) => from !== chosen);
  const wanted = [
    ...all.filter(({ from }) => from === chosen),
    ...others.filter(({ from }) => beside.includes(from)),
  ];
  const known = useSeasons(wanted);
  return (
    <>
      <div class="season-choice">
        <label class="field">
          <span>{words.which}</span>
          <select value={chosen} onChange={(event) => setChosen(event.currentTarget.value)}>
            {all.map(({ from, name }) => (
              <option key={from} value={from}>
                {name}
              </option>
            ))}
          </select>
        </label>
        {others.length > 0 && (
          <fieldset class="choices">
            <legend>{words.beside}</legend>
            {others.map(({ from, name }) => (
              <button
                key={from}
                type="button"
                class="press press-small"
                aria-pressed={beside.includes(from)}
                onClick={() =>
                  setBeside(beside.includes(from) ? beside.filter((one) => one !== from) : [...beside, from])
                }
              >
                {name}
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
          {known[0] !== undefined && <NotesStrip present={present} span={spanOf(known[0])} />}
        </>
      )}
    </>
  );
}
