import { render } from 'preact';
import type { PagePresent } from '../../../shared/page/page-present.js';
import { HouseProvider } from './house/house.js';
import { Door } from './shell/door.js';
import { Shell } from './shell/shell.js';
import { createStore, type FarmState, farmNowMs } from './state/farm-store.js';
import { watchHand } from './state/hand.js';
import { keepPage } from './state/kept-page.js';
import { languageOf } from './state/language.js';
import { followLight } from './state/light.js';
import { followHouse } from './state/live-link.js';
import { presentKeeper, rememberedPresent } from './state/remembered.js';
import { createTeller } from './state/tell.js';
import { speakNumbers } from './texts/amounts/amounts.js';
import { loadTexts } from './texts/texts.js';

/** As the page comes when the house could not be asked: from this phone's own keeping. */
const FROM_KEEPING = 'kept';

/** The present that the house put into the page; null when it asks for the access word first. */
function givenPresent(): PagePresent | typeof FROM_KEEPING | null {
  const text = document.getElementById('present')?.textContent ?? 'null';
  return JSON.parse(text) as PagePresent | typeof FROM_KEEPING | null;
}

const place = document.getElementById('page');
if (place === null) throw new TypeError('the page has no place to draw in');

const given = givenPresent();
const isKept = given === FROM_KEEPING;
const last = given === null || isKept ? rememberedPresent() : undefined;
const language = languageOf(document, isKept ? last?.present.language : given?.language);
document.documentElement.lang = language;
const texts = await loadTexts(language);
speakNumbers(texts.locale);
const store = createStore<FarmState>({
  present: given === null || isKept ? last?.present : given,
  contact: isKept ? 'lost' : 'connecting',
  heardAtMs: last?.heardAtMs ?? Date.now(),
  fresh: [],
});
const teller = createTeller(texts, () => farmNowMs(store.get(), Date.now()));
const house = {
  store,
  teller,
  hand: watchHand(document),
  light: followLight(document),
  texts,
};
if (given !== null) {
  followHouse(store, presentKeeper());
  store.subscribe(() => {
    if (store.get().contact === 'live') void teller.tellWaiting();
  });
}
keepPage();
render(<HouseProvider value={house}>{given === null ? <Door /> : <Shell />}</HouseProvider>, place);
