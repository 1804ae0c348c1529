import { z } from 'zod';
import { askedWordSchema } from './asked-word.js';

const LEAST_WORD = 6;

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
    if ((page.certFile === undefined) === (page.keyFile === undefined)) return;
    const path = page.certFile === undefined ? 'certFile' : 'keyFile';
    context.addIssue({ code: 'custom', path: [path], message: 'give certFile and keyFile together' });
  })
  .meta({ id: 'Page' });
export type PageConfig = z.infer<typeof pageSchema>;
