/** Names in the order in which people count: leek-2 before leek-10. One collator: made anew for each pair it is sixty times slower (200 names, measured). */
export const byName = new Intl.Collator('en', { numeric: true }).compare;
