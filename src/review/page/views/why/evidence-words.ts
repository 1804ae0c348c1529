import type { UnitsConfig } from '../../../../../shared/config/notices.js';
import type { WhyEvidence } from '../../../../../shared/page/page-why.js';
import { numberWords, waterWords } from '../../texts/amounts/amounts.js';
import type { Texts } from '../../texts/texts.js';

/** What a piece of evidence is, in words. */
export function evidenceWords(
  { kind, at, source, count, ml, level }: WhyEvidence,
  texts: Texts,
  units: UnitsConfig,
  when: (at: string) => string,
): string {
  const { kinds } = texts.why;
  const time = at === undefined ? '' : when(at);
  const readings = numberWords(count ?? 0, 0);
  switch (kind) {
    case 'pour':
      return kinds.pour(time, ml === undefined ? kinds.filled : waterWords(ml, units));
    case 'look':
      return kinds.look(texts.tray.looks[(level ?? 1) - 1] ?? '', time);
    case 'weight':
    case 'ready':
    case 'life':
      return kinds[kind](time);
    case 'probe':
    case 'air':
    case 'light':
      return kinds[kind](source ?? '', readings);
    case 'others':
    case 'own-lessons':
    case 'farm-lessons':
    case 'cover':
      return kinds[kind];
  }
}
