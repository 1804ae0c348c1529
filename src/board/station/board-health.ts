import type { Language } from '../../../shared/base/language.js';
import type { BoardHealth } from '../../monitor/ports/ports.js';
import { houseIn } from '../../watering/sentences/speech.js';

export type BoardState = BoardHealth['state'];

/** How a board is. @param finding what the line to it said */
export function healthOf(boardId: string, state: BoardState, finding: string): BoardHealth {
  return { boardId, state, own: ['board', boardId, state, finding] };
}

/** What a person can do about a board that is not ready. */
export function boardWords({ own: [, boardId, state, finding] }: BoardHealth, language?: Language): string {
  return houseIn(language).board(boardId, state, finding);
}
