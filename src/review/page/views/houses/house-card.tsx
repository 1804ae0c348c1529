import { asksForHelp } from '../../../../../shared/base/asks-for-help.js';
import type { PageHouse } from '../../../../../shared/page/page-houses.js';
import type { PagePresent } from '../../../../../shared/page/page-present.js';
import { Icon } from '../../draw/icons.js';
import { clockOf, useHouse } from '../../house/house.js';
import { waterWords } from '../../texts/amounts/amounts.js';
import { agoWords } from '../../texts/farm-clock.js';
import { concernOf } from '../now/call-card.js';

/** A house with more has its own page for them. */
const MOST_CALLS = 4;

interface HouseCardProps {
  readonly house: PageHouse;
  readonly present: PagePresent;
  readonly nowMs: number;
}

/** One house: whether it is watched, what it calls for, its round, its next tray, the way to its own page. */
export function HouseCard({ house, present, nowMs }: HouseCardProps) {
  const { texts } = useHouse();
  const words = texts.houses;
  const clock = clockOf(present, texts);
  const { farm, state, heardAt, calls, trayCount } = house;
  const shown = calls.filter(asksForHelp);
  const looks = [
    'house-card',
    state === 'watching' ? '' : 'house-unwatched',
    shown.length > 0 ? 'house-calls' : '',
  ];
  return (
    <li class={looks.filter(Boolean).join(' ')}>
      <h2>{farm}</h2>
      <p class="house-state">
        <b>{words.states[state]}</b>
        <span>
          {heardAt === undefined ? words.notHeard : words.heard(agoWords(nowMs - Date.parse(heardAt), texts))}
        </span>
        {trayCount > 0 && <span>{words.trays(trayCount)}</span>}
      </p>
      {state !== 'watching' && <p class="problem">{words.stands[state]}</p>}
      {house.isUnclear && <p class="hint">{words.unclear}</p>}
      {shown.length > 0 && (
        <ul class="house-call-list">
          {shown.slice(0, MOST_CALLS).map((call) => (
            <li key={`${concernOf(call)} ${call.kind}`}>
              <Icon name="bell" />
              <span>
                {call.sentence ?? texts.call.plain(texts.call.kinds[call.kind], concernOf(call))}{' '}
                <small>
                  {call.state === 'acknowledged'
                    ? texts.call.seenAlready
                    : clock.when(Date.parse(call.at), nowMs)}
                </small>
              </span>
            </li>
          ))}
          {shown.length > MOST_CALLS && <li>{words.moreCalls(shown.length - MOST_CALLS)}</li>}
        </ul>
      )}
      {roundWords() !== undefined && <p class="house-round">{roundWords()}</p>}
      {house.awayUntil !== undefined && Date.parse(house.awayUntil) > nowMs && (
        <p>{words.away(clock.when(Date.parse(house.awayUntil), nowMs))}</p>
      )}
      {house.next !== undefined && <p>{nextWords(house.next)}</p>}
      {house.isThis ? (
        <a class="press" href="#now">
          {words.here}
        </a>
      ) : house.page === undefined ? (
        <p class="hint">{words.noPage}</p>
      ) : (
        <a class="press" href={house.page}>
          {words.go(farm)}
        </a>
      )}
    </li>
  );

  function roundWords(): string | undefined {
    const { round } = house;
    if (round === undefined) return undefined;
    const open = round.dueCount - round.wateredCount;
    const what =
      round.dueCount === 0
        ? words.nothingDue
        : open === 0
          ? words.allWatered(round.dueCount)
          : words.toWater(open, waterWords(round.doseMl, present.units));
    return `${words.round(clock.when(Date.parse(round.round), nowMs))}: ${what}`;
  }

  function nextWords({ tray, dryAt }: NonNullable<PageHouse['next']>): string {
    const dryAtMs = Date.parse(dryAt);
    return dryAtMs <= nowMs && state === 'watching'
      ? words.nextNow(tray)
      : words.next(tray, clock.when(dryAtMs, nowMs));
  }
}
