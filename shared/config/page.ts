import { z } from 'zod';
import { idSchema } from '../base/ids.js';
import { askedWordSchema } from './asked-word.js';

const LEAST_WORD = 6;
/** One broker and one page carry some fifty houses (measured); twice that is no farm any more (judgement). */
const MOST_HOUSES = 100;

/** Another house of the same grower, whose monitor talks to the same broker. */
export const followedHouseSchema = z
  .strictObject({
    farm: idSchema.describe('As its configuration names it under `farm`.'),
    page: z
      .url({ protocol: /^https?$/, error: 'expected an address such as "http://north-house.lan:8118/"' })
      .optional()
      .describe('Address of its own page, for the link.'),
  })
  .meta({ id: 'FollowedHouse' });
export type FollowedHouse = z.infer<typeof followedHouseSchema>;

/** The page that the same process serves. */
export const pageSchema = z
  .strictObject({
    listenHost: z
      .string()
      .default('127.0.0.1')
      .describe('127.0.0.1: this machine only; 0.0.0.0 or an address of it: every phone on the network.'),
    listenPort: z.int().min(0).max(65535).default(8118),
    hostNames: z
      .array(z.string().min(1).max(253))
      .max(20)
      .default([])
      .describe(
        'Further names by which phones reach the page, e.g. "greenhouse.lan"; addresses, localhost and the name of the machine need not be listed.',
      ),
    accessWord: askedWordSchema(LEAST_WORD)
      .optional()
      .describe(
        'Asked for once on each phone, as `drybell password` prints it or in clear; set it when the page is reachable from other machines.',
      ),
    photosMb: z
      .int()
      .min(0)
      .max(20_000)
      .default(200)
      .describe(
        'Room for the photos of notes in the store, MB; about 1000 of them at 200. 0: none are taken.',
      ),
    houses: z
      .array(followedHouseSchema)
      .max(MOST_HOUSES)
      .default([])
      .describe(
        'Houses at the same broker, each a farm of its own name: the page shows them all with what is next, what calls and how old their last word is. This one may be among them, so that all have the same list.',
      ),
    certFile: z
      .string()
      .min(1)
      .optional()
      .describe(
        'Makes the page speak TLS (https): its certificate with those above it, PEM; read anew when the file changes.',
      ),
    keyFile: z.string().min(1).optional().describe('Key of certFile, PEM, without a passphrase.'),
  })
  .superRefine((page, context) => {
    const names = page.houses.map(({ farm }) => farm);
    for (const [index, name] of names.entries())
      if (names.indexOf(name) < index)
        context.addIssue({
          code: 'custom',
          path: ['houses', index, 'farm'],
          message: `"${name}" is named twice`,
        });
    if ((page.certFile === undefined) === (page.keyFile === undefined)) return;
    const path = page.certFile === undefined ? 'certFile' : 'keyFile';
    context.addIssue({ code: 'custom', path: [path], message: 'give certFile and keyFile together' });
  })
  .meta({ id: 'Page' });
export type PageConfig = z.infer<typeof pageSchema>;

/** The houses beside this one. */
export function otherHouses(farm: string, { houses }: Pick<PageConfig, 'houses'>): readonly FollowedHouse[] {
  return houses.filter((house) => house.farm !== farm);
}
