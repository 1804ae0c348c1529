import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { MS_PER_HOUR } from '../../../../../shared/base/time-units.js';
import type { AlarmTransition } from '../../../../../shared/facts/alarm.js';
import type { PagePresent } from '../../../../../shared/page/page-present.js';
import { Icon } from '../../draw/icons.js';
import { clockOf, useHouse } from '../../house/house.js';
import type { Wish } from '../../state/tell.js';
import { whyAddress } from '../../state/views.js';
import { TellPress, UndoHere } from '../parts/tell-press.js';

interface CallCardProps {
  readonly present: PagePresent;
  readonly call: AlarmTransition;
  readonly nowMs: number;
}

const LATER_H = [1, 3] as const;

/** "Seen" of a dry tray answers for its call to water as well; any other is for that one call. */
function seenWish({ kind }: AlarmTransition, of: string): Wish {
  return kind === 'dry' ? { do: 'acknowledge', of } : { do: 'acknowledge', kind, of };
}

/** Whom a call concerns: its tray, bench or source. */
export function concernOf(call: AlarmTransition): string {
  return call.tray ?? call.bench ?? call.source ?? '';
}

/** One standing call in plain words, with seen and later. It is done by the watering, not by a press. */
export function CallCard({ present, call, nowMs }: CallCardProps) {
  const { texts, teller } = useHouse();
  const [choosing, setChoosing] = useState(false);
  const of = concernOf(call);
  const plain = texts.call.plain(texts.call.kinds[call.kind], of);
  const standing = standingWords(call, present, nowMs);
  const choices = laterChoices(present, nowMs);
  return (
    <li class={`call call-${call.state}`}>
      <p class="call-kind">
        <Icon name="bell" />
        <b>{texts.call.kinds[call.kind]}</b>
        <span>{of}</span>
        {standing !== '' && <small>{standing}</small>}
      </p>
      <p class="call-words">{call.sentence ?? plain}</p>
      <DonePress call={call} canTell={present.canTell} />
      {call.state === 'out-of-service' ? (
        <Presses disabled={!present.canTell}>
          <button
            type="button"
            class="press"
            onClick={() => teller.tell({ do: 'in-service', kind: call.kind, of }, texts.call.backInService)}
          >
            {texts.call.backInService}
          </button>
        </Presses>
      ) : call.state === 'shelved' ? (
        <Presses disabled={!present.canTell}>
          <button
            type="button"
            class="press"
            onClick={() => teller.tell({ do: 'unshelve', kind: call.kind, of }, texts.call.wakeAgain)}
          >
            <Icon name="bell" />
            {texts.call.wakeAgain}
          </button>
        </Presses>
      ) : (
        <Presses disabled={!present.canTell}>
          {call.state !== 'acknowledged' && (
            <TellPress
              wish={seenWish(call, of)}
              label={texts.call.seenLabel(of)}
              spoken={texts.call.seenLabel(plain)}
              class="press press-seen"
              canTell={present.canTell}
            >
              <Icon name="eye" />
              {texts.call.seen}
            </TellPress>
          )}
          <button
            type="button"
            class="press"
            aria-expanded={choosing}
            aria-label={texts.call.laterOpen(plain)}
            onClick={() => setChoosing(!choosing)}
          >
            <Icon name="sleep" />
            {texts.call.later}
          </button>
        </Presses>
      )}
      {call.tray !== undefined && (
        <a
          class="press why-call"
          href={whyAddress(call.tray, call.at)}
          aria-label={texts.why.openFor(call.tray)}
        >
          <Icon name="why" />
          {texts.why.open}
        </a>
      )}
      {choosing && call.state !== 'shelved' && (
        <fieldset class="later" disabled={!present.canTell}>
          <legend>{texts.call.laterTitle}</legend>
          {choices.map((choice) => (
            <button
              key={choice.words}
              type="button"
              class="press"
              onClick={() => {
                setChoosing(false);
                const until = new Date(choice.atMs).toISOString();
                void teller.tell(
                  { do: 'shelve', kind: call.kind, of, until },
                  texts.call.laterLabel(of, choice.words),
                );
              }}
            >
              {choice.words}
            </button>
          ))}
        </fieldset>
      )}
    </li>
  );

  function laterChoices(now: PagePresent, atMs: number): { atMs: number; words: string }[] {
    const clock = clockOf(now, texts);
    const spans = LATER_H.map((hours) => ({
      atMs: atMs + hours * MS_PER_HOUR,
      words: texts.call.in(`${hours} ${texts.hours.hoursShort}`),
    }));
    const round = now.nextRounds.map((one) => Date.parse(one)).find((roundMs) => roundMs > atMs);
    return round === undefined
      ? spans
      : [...spans, { atMs: round, words: texts.call.atRound(clock.when(round, atMs)) }];
  }

  function standingWords(one: AlarmTransition, now: PagePresent, atMs: number): string {
    switch (one.state) {
      case 'acknowledged':
        return one.by === undefined ? texts.call.seenAlready : texts.call.seenBy(one.by);
      case 'shelved':
        return one.shelvedUntil === undefined
          ? texts.call.later
          : texts.call.laterUntil(clockOf(now, texts).when(Date.parse(one.shelvedUntil), atMs));
      case 'returned-to-normal-unacknowledged':
        return texts.call.over;
      case 'out-of-service':
        return texts.call.outOfService;
      case 'suppressed-by-design':
        return texts.call.held;
      case 'unacknowledged':
      case 'normal':
        return clockOf(now, texts).when(Date.parse(one.at), atMs);
    }
  }
}

/** What ends the call, where one press can tell it: the watering, or the cover taken off. */
function DonePress({ call, canTell }: { readonly call: AlarmTransition; readonly canTell: boolean }) {
  const { texts } = useHouse();
  const { tray, kind } = call;
  if (tray === undefined || (kind !== 'refill' && kind !== 'dry' && kind !== 'cover')) return null;
  const isCover = kind === 'cover';
  const wish: Wish = isCover ? { do: 'cover', tray, cover: 'none' } : { do: 'watered', tray };
  return (
    <div class="done-place">
      <TellPress
        wish={wish}
        label={isCover ? texts.tray.coverLabel(tray, texts.tray.covers.none) : texts.tray.wateredFilled(tray)}
        class="press press-water"
        canTell={canTell}
      >
        <Icon name={isCover ? 'check' : 'drop'} />
        {isCover ? texts.call.doneUncovered(tray) : texts.call.doneWatered(tray)}
      </TellPress>
      <UndoHere wish={wish} />
    </div>
  );
}

function Presses({ disabled, children }: { disabled: boolean; children: ComponentChildren }) {
  return (
    <fieldset class="presses" disabled={disabled}>
      {children}
    </fieldset>
  );
}
