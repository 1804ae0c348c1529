import type { Language } from '../../../shared/base/language.js';
import type { UnitsConfig } from '../../../shared/config/notices.js';
import { createEnglish } from './english/english.js';
import { englishForms } from './english/forms.js';
import { englishHouse } from './english/house.js';
import type { DeskSentences } from './said/desk-sentences.js';
import type { HouseSentences } from './said/house-sentences.js';
import { spanishForms } from './spanish/forms.js';
import { spanishHouse } from './spanish/house.js';
import { createSpanish } from './spanish/spanish.js';
import { createFarmWords, type FarmWords } from './words/farm-words.js';
import type { WordForms } from './words/word-forms.js';

/** A language as the house speaks it: one entry of this table. */
interface HouseLanguage {
  readonly forms: WordForms;
  readonly sentences: (words: FarmWords) => DeskSentences;
}

/** Every language in `shared/base/language.ts`; the type checker names what is missing of one. */
const languages: Readonly<Record<Language, HouseLanguage>> = {
  en: { forms: englishForms, sentences: createEnglish },
  es: { forms: spanishForms, sentences: createSpanish },
};

const houses: Readonly<Record<Language, HouseSentences>> = { en: englishHouse, es: spanishHouse };

/** What the house says of itself, where no farm is known yet. */
export function houseIn(language: Language = 'en'): HouseSentences {
  return houses[language];
}

/** How a farm is spoken to: its times and amounts, and every sentence made of them. */
export interface FarmSpeech {
  readonly words: FarmWords;
  readonly say: DeskSentences;
}

/** Of a farm's configuration: its language (English where none is given), time zone and units. Made once: Intl is slow to start. */
export function createSpeech(farm: {
  readonly language?: Language | undefined;
  readonly timeZone: string;
  readonly units: UnitsConfig;
}): FarmSpeech {
  const { forms, sentences } = languages[farm.language ?? 'en'];
  const words = createFarmWords(farm.timeZone, farm.units, forms);
  return { words, say: sentences(words) };
}
