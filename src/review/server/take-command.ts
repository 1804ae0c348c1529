import { plainIssue } from '../../../shared/base/plain-issue.js';
import { type Answer, commandSchema } from '../../../shared/wire/command.js';
import type { PageFeed } from '../feed/page-feed.js';
import { Refusal } from './http/respond.js';

/** Validates what the page sent and hands it to the house; malformed commands change nothing. */
export async function takeCommand(live: PageFeed, body: unknown): Promise<Answer> {
  const parsed = commandSchema.safeParse(body);
  if (!parsed.success) {
    const problems = parsed.error.issues
      .slice(0, 5)
      .map((issue) => `${issue.path.join('.') || 'command'}: ${plainIssue(issue)}`);
    throw new Refusal(400, 'malformed-command', `Not understood. ${problems.join('; ')}.`);
  }
  return live.command(parsed.data);
}
