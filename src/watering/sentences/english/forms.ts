import type { WordForms } from '../words/word-forms.js';

export const englishForms: WordForms = {
  locale: 'en-GB',
  time: (day, clock) => `${day} ${clock}`.trimStart(),
  about: (day, clock) => `about ${`${day} ${clock}`.trimStart()}`,
  round: (day, clock) => {
    const { tomorrow, yesterday } = englishForms.days;
    const whose = day === tomorrow || day === yesterday ? `${day}'s` : `the ${day}`.trimEnd();
    return `${whose} ${clock} round`;
  },
  days: { tomorrow: 'tomorrow', yesterday: 'yesterday' },
  range: (least, most, unit) => `${least} to ${most} ${unit}`,
  blocks: (side) => (side === undefined ? 'minis' : `${side} blocks`),
  blocksCounted: (count, side) =>
    side === undefined
      ? `${count} ${count === 1 ? 'mini' : 'minis'}`
      : `${count} ${count === 1 ? 'block' : 'blocks'} of ${side}`,
};
