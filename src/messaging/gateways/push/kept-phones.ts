import { z } from 'zod';
import { type KeptDocument, readDocument } from '../../../../shared/base/kept-document.js';
import { pushSubscriptionSchema } from '../../../../shared/wire/push.js';
import type { FactStore } from '../../../monitor/ports/ports.js';
import { belongTogether, newPushKeys, type PushKeys } from './push-keys.js';

/** Name of the state document that holds keys and phones: in the store, so that only its user reads it and a backup has it. */
const PHONES = 'phones';

const keptPhoneSchema = z.object({
  id: z.string(),
  name: z.string(),
  sinceMs: z.number(),
  subscription: pushSubscriptionSchema,
});
const keptSchema = z.object({
  publicKey: z.string(),
  privateKey: z.string(),
  phones: z.array(keptPhoneSchema),
});

/** A phone that is called, as it is kept. */
export type KeptPhone = z.infer<typeof keptPhoneSchema>;

const document: KeptDocument<z.infer<typeof keptSchema>> = {
  name: 'The list of phones',
  version: 1,
  steps: {},
  read: (kept) => {
    const { data } = keptSchema.safeParse(kept);
    return data !== undefined && belongTogether(data) ? data : undefined;
  },
};

/** Where states are kept. */
export type Shelf = Pick<FactStore, 'loadState' | 'saveState' | 'setStateAside'>;

/** The house's keys for push and the phones that it calls, kept over restarts. */
export class KeptPhones {
  private constructor(
    private readonly shelf: Shelf | undefined,
    readonly keys: PushKeys,
    private phones: readonly KeptPhone[],
    /** What could not be read, and what became of it. */
    readonly trouble: string | undefined,
  ) {}

  /** @param shelf absent: nothing outlives the process */
  static async open(shelf: Shelf | undefined): Promise<KeptPhones> {
    const kept = await shelf?.loadState(PHONES).catch((cause: unknown) => {
      if (cause instanceof Error && 'code' in cause && cause.code === 'garbled') return 'garbled';
      throw cause;
    });
    const reading = readDocument(document, kept);
    if (reading.outcome === 'read') {
      const { phones, ...keys } = reading.value;
      return new KeptPhones(shelf, keys, phones, undefined);
    }
    const aside = reading.outcome === 'none' ? undefined : await shelf?.setStateAside(PHONES);
    const trouble =
      reading.outcome === 'none'
        ? undefined
        : `${document.name} ${reading.why}; it is kept as "${aside}". No phone is called by push until it is set up again on its page.`;
    const fresh = new KeptPhones(shelf, newPushKeys(), [], trouble);
    // a phone is given the key before it is put on the list
    await fresh.keep([]);
    return fresh;
  }

  all(): readonly KeptPhone[] {
    return this.phones;
  }

  /** Puts a phone in the place of that with its id, or beside the others. */
  async put(phone: KeptPhone): Promise<void> {
    await this.keep([...this.phones.filter(({ id }) => id !== phone.id), phone]);
  }

  async forget(phoneId: string): Promise<void> {
    await this.keep(this.phones.filter(({ id }) => id !== phoneId));
  }

  private async keep(phones: readonly KeptPhone[]): Promise<void> {
    this.phones = phones;
    await this.shelf?.saveState(PHONES, { version: document.version, ...this.keys, phones });
  }
}
