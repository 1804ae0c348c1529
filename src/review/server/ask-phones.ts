import { plainIssue } from '../../../shared/base/plain-issue.js';
import { type PushAnswer, pushRequestSchema } from '../../../shared/wire/push.js';
import type { Phones } from '../../monitor/ports/phones.js';
import { Refusal } from './http/respond.js';

/** A page that calls nobody: nothing is wrong with it, so the browser is not handed an error. */
const NO_CALLS = {
  code: 'no-calls',
  sentence: 'This page only shows the store; the page of the house that watches calls phones.',
} as const;

/** Hands what a phone wants of being called to the house; says so where none calls, and refuses what is malformed. */
export async function askPhones(
  phones: Phones | undefined,
  body: unknown,
): Promise<PushAnswer | typeof NO_CALLS> {
  if (phones === undefined) return NO_CALLS;
  const parsed = pushRequestSchema.safeParse(body);
  if (parsed.success) return phones.ask(parsed.data);
  const problems = parsed.error.issues.map(
    (issue) => `${issue.path.join('.') || 'request'}: ${plainIssue(issue)}`,
  );
  throw new Refusal(400, 'malformed-request', `Not understood. ${problems.slice(0, 5).join('; ')}.`);
}
