import { useEffect, useState } from 'preact/hooks';
import { clockOf, useHouse, useStore } from '../house/house.js';
import { agoWords } from '../texts/farm-clock.js';

/** Says loudly when the page is not in contact with the house, and how old what it shows is. */
export function ContactBand() {
  const { store, texts, teller } = useHouse();
  const state = useStore(store);
  const waiting = useStore(teller.list).told.filter((one) => one.state === 'waiting').length;
  const [, tick] = useState(0);
  useEffect(() => {
    const timer = setInterval(() => tick((count) => count + 1), 10_000);
    return () => clearInterval(timer);
  }, []);
  const { present, contact } = state;
  const words = (): string | undefined => {
    if (contact === 'lost') {
      if (present === undefined) return texts.contact.never;
      const clock = clockOf(present, texts);
      const since = clock.when(state.heardAtMs, Date.now());
      return texts.contact.lost(since, agoWords(Date.now() - state.heardAtMs, texts));
    }
    if (present === undefined) return texts.contact.connecting;
    if (present.clockSpeed === 0) {
      const atMs = Date.parse(present.at);
      return texts.contact.past(clockOf(present, texts).full(atMs), agoWords(Date.now() - atMs, texts));
    }
    if (!present.canTell) return texts.contact.readOnly;
    if (present.clockSpeed > 1) return texts.clock.runsFast(Math.round(present.clockSpeed));
    return undefined;
  };
  const said = words();
  return (
    <div role="status" class="contact-place">
      {said !== undefined && <p class={`contact contact-${contact}`}>{said}</p>}
      {waiting > 0 && <p class="contact">{texts.contact.waiting(waiting)}</p>}
      {contact !== 'lost' &&
        present?.ailments.map((ailment) => (
          <p key={ailment.source} class="contact contact-lost">
            <b>{ailment.source}</b> {ailment.sentence}
          </p>
        ))}
    </div>
  );
}
