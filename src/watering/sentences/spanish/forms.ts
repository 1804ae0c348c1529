import type { WordForms } from '../words/word-forms.js';

/** "las 18:00"; one o'clock is one: "la 01:00". */
const hour = (clock: string): string => `${clock.startsWith('01:') ? 'la' : 'las'} ${clock}`;

/** "son las 18:00", "es la 01:00". */
export const now = (clock: string): string => `${clock.startsWith('01:') ? 'es' : 'son'} ${hour(clock)}`;

/** "mañana", "ayer", or a day of the week or calendar with its article. */
function dayWords(day: string): string {
  const { tomorrow, yesterday } = spanishForms.days;
  return day === tomorrow || day === yesterday ? day : `el ${day}`;
}

export const spanishForms: WordForms = {
  locale: 'es-ES',
  time: (day, clock) => (day === '' ? `a ${hour(clock)}` : `${dayWords(day)} a ${hour(clock)}`),
  about: (day, clock) => (day === '' ? `hacia ${hour(clock)}` : `${dayWords(day)} hacia ${hour(clock)}`),
  round: (day, clock) => {
    if (day === '') return `la ronda de ${hour(clock)}`;
    const { tomorrow, yesterday } = spanishForms.days;
    const whose = day === tomorrow || day === yesterday ? `de ${day}` : `del ${day}`;
    return `la ronda ${whose} a ${hour(clock)}`;
  },
  days: { tomorrow: 'mañana', yesterday: 'ayer' },
  range: (least, most, unit) => `de ${least} a ${most} ${unit}`,
  blocks: (side) => (side === undefined ? 'minis' : `bloques de ${side}`),
  blocksCounted: (count, side) =>
    side === undefined
      ? `${count} ${count === 1 ? 'mini' : 'minis'}`
      : `${count} ${count === 1 ? 'bloque' : 'bloques'} de ${side}`,
};

/** A time after "hasta", "desde" or "de": "las 18:00", "mañana a las 07:00". */
export const bare = (time: string): string => time.replace(/^a (?=las? )/, '');

/** First letter large, as a sentence begins. */
export const begun = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
