import type { UnitsConfig } from '../../../../shared/config/notices.js';
import type { TrayLine } from '../../../../shared/facts/tray-line.js';
import { didYouMean } from '../../../watering/sentences/words/did-you-mean.js';
import { sideWords } from '../../../watering/sentences/words/told-amounts.js';
import { SAME_SIZE_MM } from '../../../watering/trays/usual-block-count.js';
import { BadWord } from './bad-word.js';
import { sideMmOf } from './block-side.js';
import { parseQuantity } from './quantities.js';

/** What of a tray may be named. */
export type NamedTray = Pick<TrayLine, 'id' | 'bench' | 'blockSideMm' | 'crop'>;

const same = (a: string, b: string | undefined): boolean => a.toLowerCase() === b?.toLowerCase();

/** Trays that one word means: a tray, else all of a bench, else of a crop, else of a block size. */
function meantBy(word: string, trays: readonly NamedTray[], units: UnitsConfig): readonly NamedTray[] {
  const sideMm = sideMmOf(word, units);
  const ways: readonly ((tray: NamedTray) => boolean)[] = [
    ({ id }) => id === word,
    ({ bench }) => bench === word,
    ({ crop }) => same(word, crop),
    ({ blockSideMm }) => sideMm !== undefined && Math.abs(blockSideMm - sideMm) <= SAME_SIZE_MM,
  ];
  for (const isMeant of ways) {
    const meant = trays.filter(isMeant);
    if (meant.length > 0) return meant;
  }
  return [];
}

/** `"celry" is no tray … that stands here. Did you mean "celery"? …` */
function unknownWord(
  word: string,
  trays: readonly NamedTray[],
  benches: readonly string[],
  units: UnitsConfig,
): BadWord {
  const used = (name: (tray: NamedTray) => string | undefined): string[] => [
    ...new Set(trays.flatMap((tray) => name(tray) ?? [])),
  ];
  if (benches.includes(word)) return new BadWord(`No tray stands on bench ${word}; nothing was changed.`);
  const isNumber = parseQuantity(word)?.unit === '';
  const [ids, crops] = [used(({ id }) => id), used(({ crop }) => crop)];
  const onBenches = [...new Set([...used(({ bench }) => bench), ...benches])];
  const sizes = used(({ blockSideMm }) => sideWords(blockSideMm, units));
  const list = (name: string, words: readonly string[]): string =>
    words.length === 0 ? '' : ` ${name}: ${words.join(', ')}.`;
  return new BadWord(
    `"${word}" is no tray, bench, crop or block size that stands here; nothing was changed.${isNumber ? ` If it is an amount, give its unit: ${word} mL or ${word} fl oz.` : ''}${didYouMean(word, [...ids, ...onBenches, ...crops])}${list('Trays', ids)}${list('Benches', onBenches)}${list('Crops', crops)}${list('Sizes', sizes)}`,
  );
}

/**
 * The trays that words mean, each once, in the order in which they stand in `trays`.
 * @param units of the farm: a bare number is a block size in them
 * @param benches further benches that are known, on which nothing may stand
 * @throws BadWord when a word means none, with the one that was probably meant
 */
export function traysNamed<Tray extends NamedTray>(
  words: readonly string[],
  trays: readonly Tray[],
  units: UnitsConfig,
  benches: readonly string[] = [],
): readonly Tray[] {
  const meant = new Set(
    words
      .flatMap((word) => word.split(','))
      .filter((word) => word !== '')
      .flatMap((word) => {
        const found = meantBy(word, trays, units);
        if (found.length === 0) throw unknownWord(word, trays, benches, units);
        return found.map(({ id }) => id);
      }),
  );
  return trays.filter(({ id }) => meant.has(id));
}
