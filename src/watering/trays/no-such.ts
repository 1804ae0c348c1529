import type { Desk } from '../desk/desk.js';
import { standingTrays } from '../desk/desk.js';
import type { AnswerSentences } from '../sentences/said/answer-sentences.js';
import type { Said } from '../sentences/said/said.js';
import { probablyMeant } from '../sentences/words/did-you-mean.js';

/** What is said of a tray that does not stand. */
export function noSuchTray(
  desk: Desk,
  trayId: string,
  remedy: Parameters<AnswerSentences['noSuchTray']>[1] = 'enter',
): Said {
  const known = standingTrays(desk).map(({ id }) => id);
  return ['noSuchTray', { name: trayId, meant: probablyMeant(trayId, known) }, remedy];
}

/** What is said of a bench that the configuration does not have. */
export function noSuchBench(desk: Desk, bench: string): Said {
  const benches = desk.options.benches.map(({ id }) => id);
  return ['noSuchBench', { name: bench, meant: probablyMeant(bench, benches) }, benches];
}
