import type { PushAnswer, PushRequest } from '../../../shared/wire/push.js';

/**
 * Phones that are called by push.
 * - `ask` takes what a phone's page wants and resolves with how the phone stands afterwards; what could not be done is its `problem`,
 *   not a rejection. What it changed is kept when it resolves.
 */
export interface Phones {
  ask(request: PushRequest): Promise<PushAnswer>;
}
