import { randomBytes } from 'node:crypto';
import { plainIssue } from '../../../shared/base/plain-issue.js';
import { type Answer, type Command, commandSchema } from '../../../shared/wire/command.js';
import type { PageFeed } from '../feed/page-feed.js';
import type { PhotoShelf } from '../photos/photo-shelf.js';
import { Refusal } from './http/respond.js';
import { photoRefusal } from './photo-refusal.js';

const JPEG_DATA = 'data:image/jpeg;base64,';

/** A note that comes from the page may bring its photo with it, as the text of a `data:` address. */
function broughtPhoto(body: unknown): { readonly photo: Buffer; readonly rest: object } | undefined {
  if (typeof body !== 'object' || body === null || !('photo' in body)) return undefined;
  const { photo, ...rest } = body;
  if (typeof photo !== 'string' || !photo.startsWith(JPEG_DATA)) return undefined;
  return { photo: Buffer.from(photo.slice(JPEG_DATA.length), 'base64'), rest };
}

function parsedCommand(body: unknown): Command {
  const parsed = commandSchema.safeParse(body);
  if (parsed.success) return parsed.data;
  const problems = parsed.error.issues
    .slice(0, 5)
    .map((issue) => `${issue.path.join('.') || 'command'}: ${plainIssue(issue)}`);
  throw new Refusal(400, 'malformed-command', `Not understood. ${problems.join('; ')}.`);
}

/** Validates what the page sent and hands it to the house; malformed commands change nothing. */
export async function takeCommand(
  live: PageFeed,
  photos: PhotoShelf | undefined,
  photosMb: number,
  body: unknown,
): Promise<Answer> {
  const brought = broughtPhoto(body);
  if (brought === undefined) return live.command(parsedCommand(body));
  const command = parsedCommand(brought.rest);
  if (command.do !== 'note')
    throw new Refusal(400, 'malformed-command', 'Not understood. Only a note has a photo.');
  const ref = command.ref ?? `page-${randomBytes(6).toString('hex')}`;
  const kept = (await photos?.keep(ref, brought.photo)) ?? ({ outcome: 'no-photo' } as const);
  if (!('id' in kept)) throw photoRefusal(kept.outcome, photosMb);
  const answer = await live.command({ ...command, ref, photo: kept.id });
  if (!answer.ok && kept.outcome === 'kept') await photos?.drop(kept.id);
  return answer;
}
