import { describe, expect, it } from 'vitest';
import { LANGUAGES } from '../../shared/base/language.js';
import { loadTexts } from '../../src/review/page/texts/texts.js';

/** Counts that no language writes in words; one for each place, so that none can stand for another. */
const COUNT = 1101;
const broken = /NaN|undefined|Infinity|\[object/;

type Said =
  | string
  | readonly unknown[]
  | ((...given: unknown[]) => unknown)
  | { readonly [key: string]: Said };

/** Every way to call it: each place once a name, once one, once two, once many. */
function* callsOf(placeCount: number): Generator<unknown[]> {
  if (placeCount === 0) return yield [];
  for (const before of callsOf(placeCount - 1))
    for (const given of [`⟦${placeCount}⟧`, 1, 2, COUNT + placeCount]) yield [...before, given];
}

/** Names and large counts that stand in a text, thousands written with or without a mark. */
function placeholders(text: string): string[] {
  const bare = text.replace(/(?<=\d)[.,\u00a0\u202f](?=\d{3}\b)/g, '');
  return bare.match(/⟦\d⟧|\d{3,}/g) ?? [];
}

function flat(said: unknown): string {
  return Array.isArray(said) ? said.join('\n') : String(said);
}

/** What a language lacks that English has, by path. */
function lackings(english: Said, other: Said, path: string): string[] {
  if (typeof english === 'function') {
    if (typeof other !== 'function') return [`${path} is no function`];
    return [...callsOf(english.length)].flatMap((given) => {
      let said: string;
      try {
        said = flat(english(...given));
      } catch {
        return [];
      }
      if (broken.test(said)) return [];
      const told = flat(other(...given));
      const lost = placeholders(said).filter((one) => !placeholders(told).includes(one));
      return lost.length === 0 ? [] : [`${path}(${given.join(', ')}) loses ${lost.join(', ')}: ${told}`];
    });
  }
  if (typeof english === 'string')
    return typeof other === 'string' && other.trim() !== '' ? [] : [`${path} is empty`];
  if (Array.isArray(english))
    return Array.isArray(other) && other.length === english.length ? [] : [`${path} has another length`];
  return Object.entries(english).flatMap(([key, value]) =>
    lackings(value as Said, (other as Record<string, Said>)[key] ?? '', path === '' ? key : `${path}.${key}`),
  );
}

describe.each(LANGUAGES)('the page in %s', (language) => {
  it('has every text, and loses no name or count that stands in the English one', async () => {
    const [english, other] = [await loadTexts('en'), await loadTexts(language)];
    expect(lackings(english as unknown as Said, other as unknown as Said, '')).toEqual([]);
  });
});

it('notices a lost placeholder, an empty text and a missing key', () => {
  const english = { a: (name: string) => `see ${name}`, b: 'x', c: { d: 'y' } } as unknown as Said;
  const other = { a: () => 'mira', b: '', c: {} } as unknown as Said;
  expect(lackings(english, other, '')).toHaveLength(4);
});
