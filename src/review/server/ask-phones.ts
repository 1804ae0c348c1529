import { plainIssue } from '../../../shared/base/plain-issue.js';
import { type PushAnswer, pushRequestSchema } from '../../../shared/wire/push.js';
import type { Phones } from '../../monitor/ports/phones.js';
import { Refusal } from './http/respond.js';

/** Hands what a phone wants of being called to the house; refuses where none calls, and what is malformed. */
export async function askPhones(phones: Phones | undefined, body: unknown): Promise<PushAnswer> {
  if (phones === undefined)
    throw new Refusal(
      409,
      'no-calls',
      'This page only shows the store; the page of the house that watches calls phones.',
    );
  const parsed = pushRequestSchema.safeParse(body);
  if (parsed.success) return phones.ask(parsed.data);
  const problems = parsed.error.issues.map(
    (issue) => `${issue.path.join('.') || 'request'}: ${plainIssue(issue)}`,
  );
  throw new Refusal(400, 'malformed-request', `Not understood. ${problems.slice(0, 5).join('; ')}.`);
}
