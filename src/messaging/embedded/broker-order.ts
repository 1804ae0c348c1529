import type { Aedes } from 'aedes';

type Done = (error?: Error | null) => void;

/** What of aedes hands a packet to its subscribers; no part of its types. */
interface Emitter {
  emit(packet: unknown, done?: Done): unknown;
}
interface Numbering {
  publish(packet: unknown, client?: unknown, done?: Done): void;
  readonly mq: Emitter;
}

/**
 * Has the broker hand packets on in the order in which it numbered them. aedes numbers a packet when it comes, keeps it (retained,
 * sessions) and then hands it on; a subscriber takes one that comes after a higher number for a second copy and drops it. A
 * retained alarm takes longer to keep than a reading behind it, and would be lost that way. The next packet begins when the one
 * before is being handed on, and whoever said it is told so then: nobody waits for a slow subscriber. (How far one may fall
 * behind is the door's business.)
 */
export function keepInOrder(aedes: Aedes): void {
  const broker = aedes as unknown as Numbering;
  const publish = broker.publish.bind(broker);
  const emit = broker.mq.emit.bind(broker.mq);
  let handedOn: () => void = () => undefined;
  let before: Promise<void> = Promise.resolve();
  broker.mq.emit = (packet, done) => {
    const emitted = emit(packet);
    handedOn();
    done?.();
    return emitted;
  };
  broker.publish = (packet, client, done) => {
    const [by, then] = typeof client === 'function' ? [null, client as Done] : [client ?? null, done];
    before = before.then(
      () =>
        new Promise((resolve) => {
          handedOn = resolve;
          publish(packet, by, (error) => {
            resolve();
            then?.(error);
          });
        }),
    );
  };
}
