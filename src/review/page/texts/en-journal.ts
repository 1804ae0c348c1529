export const enJournal = {};
