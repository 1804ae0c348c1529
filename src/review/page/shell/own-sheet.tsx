import { useState } from 'preact/hooks';
import type { PagePresent } from '../../../../shared/page/page-present.js';
import { clockOf, useFarmNowMs, useHouse, useStore } from '../house/house.js';
import { canKeepPage } from '../state/kept-page.js';
import { chooseLanguage, chosenLanguage } from '../state/language.js';
import { LIGHTS } from '../state/light.js';
import { ownName, setOwnName } from '../state/remembered.js';
import { PAGE_LANGUAGES } from '../texts/texts.js';
import { Sheet } from '../views/parts/sheet.js';
import { PhoneCalls } from './phone-calls.js';
import { ToldPresses } from './told-bar.js';

interface OwnSheetProps {
  readonly present: PagePresent;
  readonly onClose: () => void;
}

/** What belongs to this phone: the name told with each command, being away, what was told from here. */
export function OwnSheet({ present, onClose }: OwnSheetProps) {
  const { texts, teller } = useHouse();
  const [name, setName] = useState(ownName());
  const { told } = useStore(teller.list);
  const clock = clockOf(present, texts);
  return (
    <Sheet title={texts.own.title} onClose={onClose}>
      <h2>{texts.own.title}</h2>
      <label class="field">
        <span>{texts.own.name}</span>
        <input
          value={name}
          maxLength={40}
          autoComplete="given-name"
          onInput={(event) => {
            setName(event.currentTarget.value);
            setOwnName(event.currentTarget.value.trim());
          }}
        />
      </label>
      <PhoneCalls present={present} />
      <LightChoices />
      {PAGE_LANGUAGES.length > 1 && <LanguageChoices />}
      <Away present={present} />
      <h3>{texts.own.keptTitle}</h3>
      <p>{canKeepPage() ? texts.own.kept : texts.own.notKept}</p>
      <h3>{texts.tell.toldTitle}</h3>
      {told.length === 0 && <p class="hint">{texts.tell.toldNone}</p>}
      <ul class="told-list" hidden={told.length === 0}>
        {told.map((one) => (
          <li key={one.ref}>
            <p>
              <b>{one.label}</b>
              <small>
                {clock.timeOfDay(Date.parse(one.happenedAt))} · {texts.tell.states[one.state]}
              </small>
              {one.state !== 'done' && <span>{one.sentence}</span>}
            </p>
            <ToldPresses told={one} />
          </li>
        ))}
      </ul>
    </Sheet>
  );
}

function LightChoices() {
  const { texts, light } = useHouse();
  const { choice } = useStore(light);
  const words = texts.own.light;
  return (
    <fieldset class="choices">
      <legend>{words.title}</legend>
      {(['phone', ...LIGHTS] as const).map((one) => (
        <button
          key={one}
          type="button"
          class="press press-small"
          aria-pressed={one === choice}
          onClick={() => light.set({ choice: one })}
        >
          {words.choices[one]}
        </button>
      ))}
    </fieldset>
  );
}

/** A language by its own name, capital letter first as on a button. */
function languageName(language: string): string {
  const name = new Intl.DisplayNames([language], { type: 'language' }).of(language) ?? language;
  return `${name.charAt(0).toLocaleUpperCase(language)}${name.slice(1)}`;
}

function LanguageChoices() {
  const { texts } = useHouse();
  const words = texts.own.language;
  const choice = chosenLanguage();
  return (
    <fieldset class="choices">
      <legend>{words.title}</legend>
      {(['farm', ...PAGE_LANGUAGES] as const).map((one) => (
        <button
          key={one}
          type="button"
          class="press press-small"
          lang={one === 'farm' ? undefined : one}
          aria-pressed={one === choice}
          onClick={() => chooseLanguage(one)}
        >
          {one === 'farm' ? words.farm : languageName(one)}
        </button>
      ))}
    </fieldset>
  );
}

function Away({ present }: { readonly present: PagePresent }) {
  const { texts, teller } = useHouse();
  const nowMs = useFarmNowMs();
  const clock = clockOf(present, texts);
  const away = texts.own.away;
  return (
    <fieldset class="presses" disabled={!present.canTell}>
      <legend>{away.title}</legend>
      <p>{away.hint}</p>
      {present.awayUntil !== undefined ? (
        <button type="button" class="press" onClick={() => teller.tell({ do: 'back' }, away.back)}>
          {away.back}
        </button>
      ) : (
        present.nextRounds.slice(0, 3).map((round) => {
          const words = away.until(clock.when(Date.parse(round), nowMs));
          return (
            <button
              key={round}
              type="button"
              class="press"
              onClick={() => teller.tell({ do: 'away', until: round }, words)}
            >
              {words}
            </button>
          );
        })
      )}
    </fieldset>
  );
}
