import type { Language } from '../../../../shared/base/language.js';
import { PAGE_LANGUAGES, type PageLanguage } from '../texts/texts.js';
import { remember, remembered } from './remembered.js';

/** What this phone was told to be read in; `farm` follows the farm's own language. */
export type LanguageChoice = PageLanguage | 'farm';

const KEY = 'language';

export function chosenLanguage(): LanguageChoice {
  const kept = remembered<string>(KEY);
  return PAGE_LANGUAGES.find((one) => one === kept) ?? 'farm';
}

/** Keeps the choice and opens the page anew in it: sentences of the house stay in the farm's language. */
export function chooseLanguage(choice: LanguageChoice): void {
  remember(KEY, choice);
  location.reload();
}

/** The language to draw the page in: this phone's, else the farm's, which the house writes on the page that it sends. */
export function languageOf(page: Document, farmLanguage: Language | undefined): PageLanguage {
  const choice = chosenLanguage();
  const told = farmLanguage ?? page.documentElement.lang;
  return choice === 'farm' ? (PAGE_LANGUAGES.find((one) => one === told) ?? 'en') : choice;
}
