import { type Desk, standingTrays } from '../desk/desk.js';
import { didYouMean } from '../sentences/did-you-mean.js';

/**
 * What is said of a tray that does not stand.
 * @param remedy what else to do about it
 */
export function noSuchTray(
  desk: Desk,
  trayId: string,
  remedy = 'Check its name, or enter it as a new tray first.',
): string {
  const known = standingTrays(desk).map(({ id }) => id);
  return `There is no tray "${trayId}".${didYouMean(trayId, known)} ${remedy}`;
}

/** What is said of a bench that the configuration does not have. */
export function noSuchBench(bench: string, benches: readonly string[]): string {
  return `There is no bench "${bench}".${didYouMean(bench, benches)} Benches are: ${benches.join(', ')}.`;
}
